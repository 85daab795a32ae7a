import { useEffect, useRef, useState } from 'preact/hooks';
import type { Done, Job, Works } from './price-works';

type Waiting = { resolve(answer: unknown): void; reject(error: Error): void };

const waiting = new Map<number, Waiting>();
let worker: Worker | undefined;
let lastId = 0;
/** What the worker was last given for each work: it keeps that, so what is the same need not be copied to it again. */
const sent = new Map<string, readonly unknown[]>();

/** The page's one worker; where it can't be loaded, whoever waits is told, and it is started again for the next. */
function getWorker(): Worker {
  if (worker) return worker;
  const started = new Worker(new URL('./price-worker.ts', import.meta.url), { type: 'module' });
  started.addEventListener('message', ({ data }: MessageEvent<Done>) => {
    const asked = waiting.get(data.id);
    waiting.delete(data.id);
    if ('fault' in data) asked?.reject(new Error(data.fault));
    else asked?.resolve(data.answer);
  });
  started.addEventListener('error', () => {
    worker = undefined;
    sent.clear();
    for (const { reject } of waiting.values())
      reject(
        new Error('The price could not be worked out here. Load the page again, and look whether the server runs.'),
      );
    waiting.clear();
  });
  worker = started;
  return started;
}

function workOut<Name extends keyof Works>(
  name: Name,
  given: Parameters<Works[Name]>,
): Promise<ReturnType<Works[Name]>> {
  const id = ++lastId;
  return new Promise((resolve, reject) => {
    waiting.set(id, { resolve: resolve as Waiting['resolve'], reject });
    const to = getWorker();
    const before = sent.get(name) ?? [];
    sent.set(name, given);
    const job: Job = { id, name, changed: [...given.entries()].filter(([i, one]) => one !== before[i]) };
    to.postMessage(job);
  });
}

/**
 * Works something out beside the page. While one answer is awaited others may be wanted: only the latest is asked for next, so a
 * slider shows figures on its way, and those of where it stopped at the end. What is changed must be another array.
 *
 * @param first what is known from the start for what is given at first; otherwise undefined is answered until there is something
 */
export function useWorkedOut<Name extends keyof Works>(
  name: Name,
  given: Parameters<Works[Name]>,
  first?: ReturnType<Works[Name]>,
): { answer: ReturnType<Works[Name]> | undefined; error: string } {
  const [state, setState] = useState({ answer: first, error: '', given: first === undefined ? undefined : given });
  const wanted = useRef(given);
  const isAsking = useRef(false);
  const isGone = useRef(false);
  wanted.current = given;
  const ask = async (): Promise<void> => {
    if (isAsking.current || isGone.current) return;
    isAsking.current = true;
    const asked = wanted.current;
    const outcome = await workOut(name, asked).then(
      (answer) => ({ answer, error: '' }),
      (error: Error) => ({ answer: undefined, error: error.message }),
    );
    isAsking.current = false;
    if (isGone.current) return;
    setState({ ...outcome, given: asked });
    if (wanted.current !== asked) void ask();
  };
  useEffect(() => {
    if (state.given !== given) void ask();
  }, [given]);
  useEffect(
    () => () => {
      isGone.current = true;
    },
    [],
  );
  return { answer: state.answer, error: state.error };
}
