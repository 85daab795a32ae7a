import fc from 'fast-check';
import type { Demand, PlannedDraw } from '../../src/trade/stock/demand.js';

// Demands on a shelf as they may be, and what they come to, said once more in plain words.

export const dayOf = (n: number) => `2026-03-${String(n).padStart(2, '0')}`;
export const plain = { packQuantity: 10, leadTimeDays: 3 };
export const rising = (numbers: number[]) => numbers.every((n, i) => i === 0 || n >= (numbers[i - 1] ?? 0) - 1e-12);

export const anyDay = fc.integer({ min: 1, max: 9 }).map(dayOf);
const anyDraw = (mostEach: number): fc.Arbitrary<PlannedDraw> =>
  fc.record({
    perStudent: fc.integer({ min: 0, max: mostEach * 10 }).map((tenths) => String(tenths / 10)),
    drawn: fc.nat(4),
    sessions: fc.array(fc.record({ day: anyDay, weight: fc.integer({ min: 1, max: 4 }) }), {
      minLength: 1,
      maxLength: 3,
    }),
  });
export const anyDemand = (mostEach: number, mostMore: number): fc.Arbitrary<Demand> =>
  fc.record({
    booked: fc.nat(3),
    more: fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: mostMore + 1 }).map((weights) => {
      const all = weights.reduce((a, b) => a + b, 0);
      return weights.map((weight) => weight / all);
    }),
    draws: fc.array(anyDraw(mostEach), { minLength: 1, maxLength: 2 }),
  });

/** All that may come, each with its chance: one number of students for each course, as often as there are such tuples. */
export function everyOutcome(demands: readonly Demand[]): { chance: number; more: number[] }[] {
  return demands.reduce<{ chance: number; more: number[] }[]>(
    (so, { more }) => so.flatMap((one) => more.map((p, n) => ({ chance: one.chance * p, more: [...one.more, n] }))),
    [{ chance: 1, more: [] }],
  );
}

/** What a course with so many more has drawn by a day, said once more in plain words. */
export function drawnBy({ booked, draws }: Demand, more: number, day: string): number {
  const weigh = (some: PlannedDraw['sessions']) => some.reduce((sum, { weight }) => sum + weight, 0);
  let all = 0;
  for (const { perStudent, drawn, sessions } of draws) {
    const tenths = Math.round(Number(perStudent) * 10) * (booked + more) * weigh(sessions.filter((s) => s.day <= day));
    all += Math.max(0, Math.ceil(tenths / (10 * weigh(sessions))) - drawn);
  }
  return all;
}
