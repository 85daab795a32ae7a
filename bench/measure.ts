export type Way = { name: string; run: () => unknown };

const LEAST_ROUNDS = 7;
const ROUND_MILLISECONDS = 3000;

const median = (sorted: readonly number[]): number => sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;

function timed({ run }: Way): number {
  const began = performance.now();
  run();
  return performance.now() - began;
}

/** Runs two ways in turn, so that a noisy machine treats both alike, and says how they compare. Milliseconds are for information. */
export function compare(what: string, ours: Way, baseline: Way): void {
  timed(ours); // both are warm before anything counts
  timed(baseline);
  const [mine, theirs]: [number[], number[]] = [[], []];
  const began = performance.now();
  while (mine.length < LEAST_ROUNDS || performance.now() - began < ROUND_MILLISECONDS) {
    mine.push(timed(ours));
    theirs.push(timed(baseline));
  }
  for (const times of [mine, theirs]) times.sort((a, b) => a - b);
  const told = (times: readonly number[]) =>
    `${(times[0] ?? 0).toFixed(2)} ms at best, ${median(times).toFixed(2)} in the middle`;
  console.log(`${what}
  ${ours.name}: ${told(mine)}
  ${baseline.name}: ${told(theirs)}
  ratio ${(median(theirs) / median(mine)).toFixed(1)} (${mine.length} rounds in turn)\n`);
}

/** One way by itself. */
export function measure(what: string, way: Way): void {
  for (let warm = 0; warm < 3; warm++) timed(way);
  const times = Array.from({ length: 3 * LEAST_ROUNDS }, () => timed(way)).sort((a, b) => a - b);
  console.log(
    `${what}\n  ${way.name}: ${(times[0] ?? 0).toFixed(2)} ms at best, ${median(times).toFixed(2)} in the middle\n`,
  );
}

/** @throws Error where two ways differ: then nothing that was measured counts */
export function sameWithin(most: number, a: number, b: number, what: string): void {
  if (!(Math.abs(a - b) <= most)) throw new Error(`${what}: ${a} and ${b} differ by more than ${most}.`);
}
