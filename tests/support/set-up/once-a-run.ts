import type { ProvidedContext } from 'vitest';
import type { TestProject } from 'vitest/node';

interface Started<T> {
  value: T;
  stop(): Promise<void>;
}

interface Use {
  starting: Promise<Started<unknown>>;
  projects: number;
}

/** On the process, since vitest loads a set-up anew for each project: a variable here would be another one in each. */
const shared = globalThis as typeof globalThis & { usesInThisRun?: Map<string, Use> };
shared.usesInThisRun ??= new Map();
const uses = shared.usesInThisRun;

/**
 * A set-up that vitest runs for each project that names it. The first starts what all projects of the run share; the last to end
 * stops it.
 */
export function onceARun<Key extends keyof ProvidedContext & string>(
  key: Key,
  start: () => Promise<Started<ProvidedContext[Key]>>,
): (project: TestProject) => Promise<() => Promise<void>> {
  return async (project) => {
    const use = uses.get(key) ?? { starting: start(), projects: 0 };
    uses.set(key, use);
    use.projects++;
    const { value, stop } = (await use.starting) as Started<ProvidedContext[Key]>;
    project.provide(key, value);
    return async () => {
      if (--use.projects > 0) return;
      uses.delete(key);
      await stop();
    };
  };
}
