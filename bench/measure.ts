export type Way = { name: string; run: () => unknown };

const LEAST_ROUNDS = 7;
const ROUND_MILLISECONDS = 3000;

export const median = (sorted: readonly number[]): number => sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;

function timed({ run }: Way): number {
  const began = performance.now();
  run();
  return performance.now() - began;
}

/** How long each round of two ways took, in milliseconds, sorted. */
export type Rounds = { ours: number[]; baseline: number[] };

/** Runs two ways in turn, so that a noisy machine treats both alike. */
export function inTurn(ours: Way, baseline: Way): Rounds {
  timed(ours); // both are warm before anything counts
  timed(baseline);
  const rounds: Rounds = { ours: [], baseline: [] };
  const began = performance.now();
  while (rounds.ours.length < LEAST_ROUNDS || performance.now() - began < ROUND_MILLISECONDS) {
    rounds.ours.push(timed(ours));
    rounds.baseline.push(timed(baseline));
  }
  for (const times of Object.values(rounds)) times.sort((a, b) => a - b);
  return rounds;
}

/** Says how two ways compare. Milliseconds are for information. */
export function tell(what: string, names: { ours: string; baseline: string }, { ours, baseline }: Rounds): void {
  const told = (times: readonly number[]) =>
    `${(times[0] ?? 0).toFixed(2)} ms at best, ${median(times).toFixed(2)} in the middle`;
  console.log(`${what}
  ${names.ours}: ${told(ours)}
  ${names.baseline}: ${told(baseline)}
  ratio ${(median(baseline) / median(ours)).toFixed(1)} (${ours.length} rounds in turn)\n`);
}

export function compare(what: string, ours: Way, baseline: Way): Rounds {
  const rounds = inTurn(ours, baseline);
  tell(what, { ours: ours.name, baseline: baseline.name }, rounds);
  return rounds;
}

/** @throws Error where two ways differ: then nothing that was measured counts */
export function sameWithin(most: number, a: number, b: number, what: string): void {
  if (!(Math.abs(a - b) <= most)) throw new Error(`${what}: ${a} and ${b} differ by more than ${most}.`);
}
