// Works out prices beside the page, whose sliders and drawings go on meanwhile. use-worked-out.ts starts it.
import { type Done, type Job, WORKS } from './price-works';

const kept = new Map<string, unknown[]>();

addEventListener('message', ({ data: { id, name, changed } }: MessageEvent<Job>) => {
  const given = [...(kept.get(name) ?? [])];
  for (const [place, value] of changed) given[place] = value;
  kept.set(name, given);
  const work = WORKS[name] as (...given: unknown[]) => unknown;
  let done: Done;
  try {
    done = { id, answer: work(...given) };
  } catch (error) {
    done = { id, fault: error instanceof Error ? error.message : String(error) };
  }
  postMessage(done);
});
