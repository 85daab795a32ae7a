import type { Reporter, TestModule } from 'vitest/node';

/**
 * Ends a test run with `N passed, N failed` on a line of its own, which people and machines read alike. Before it stands how many
 * tests each project has, so that one sees where some were lost.
 */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    process.stdout.write(`\n${countLines(modules).join('\n')}\n${closingLine(modules, errors.length)}\n`);
  }
}

/** How many tests each project has, in how many files. */
export function countLines(modules: readonly (Counted & { project: { name: string } })[]): string[] {
  const names = [...new Set(modules.map(({ project }) => project.name))].sort();
  return names.map((name) => {
    const files = modules.filter(({ project }) => project.name === name);
    const tests = files.flatMap(({ children }) => [...children.allTests()]);
    return `${name}: ${tests.length} tests in ${files.length} files`;
  });
}

/** What there is to count: a file that could not be read, or whose set-up failed, counts as one failure. */
type Counted = Pick<TestModule, 'ok' | 'children'>;

export function closingLine(modules: readonly Counted[], errors: number): string {
  const states = modules.flatMap((module) => {
    const own = [...module.children.allTests()].map((test) => test.result().state);
    return module.ok() || own.includes('failed') ? own : [...own, 'failed'];
  });
  const passed = states.filter((state) => state === 'passed').length;
  const failed = states.filter((state) => state === 'failed').length + errors;
  const skipped = states.filter((state) => state === 'skipped' || state === 'pending').length;
  return `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;
}
