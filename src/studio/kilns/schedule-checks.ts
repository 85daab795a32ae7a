import { Problem } from '../../problems.js';
import { CONES } from '../../trade/firing/cones.js';
import { scheduleFigures } from '../../trade/firing/schedule.js';
import type { FiringKind, NewSchedule } from './contract.js';

const DURATION_MINUTES_MAX = 7 * 24 * 60;

/** Wide on purpose (common practice, with room to spare): they catch a slipped digit and are no advice. */
const TOP_C: Record<FiringKind, { from: number; to: number }> = {
  bisque: { from: 700, to: 1300 },
  glaze: { from: 700, to: 1400 },
  lustre: { from: 500, to: 900 }, // what is hotter would ruin the lustre that it is trusted with
};
/** How far a schedule may top out from all that the chart says of its cone: a long hold does the work of some heat. */
const CONE_SLACK_C = 50;

/** @throws Problem on a schedule that never climbs, lasts more than a week, or tops out where its kind or its cone can't be meant */
export function checkSchedule(wanted: NewSchedule): void {
  const { kind, cone } = wanted;
  const { topC, programmedMinutes: minutes } = sensible('#/segments', () => scheduleFigures(wanted));
  const { from, to } = TOP_C[kind];
  if (topC < from || topC > to)
    refuse('#/segments', `A ${kind} firing tops out between ${from} and ${to} °C, this one at ${topC} °C.`);
  if (minutes > DURATION_MINUTES_MAX)
    refuse(
      '#/segments',
      `This would take ${Math.ceil(minutes / 60)} hours, and a week is the most. Look at its rates.`,
    );
  const row = CONES.find(({ name }) => name === cone);
  if (!row) return;
  const [coolest, hottest] = [row.c15 ?? row.c60, row.c150];
  if (topC < coolest - CONE_SLACK_C || topC > hottest + CONE_SLACK_C)
    refuse('#/cone', `Cone ${cone} goes down between ${coolest} and ${hottest} °C, and this tops out at ${topC} °C.`);
}

/** Runs a check of the trade, whose RangeError becomes a refusal of that field. */
export function sensible<T>(pointer: string, check: () => T): T {
  try {
    return check();
  } catch (error) {
    if (error instanceof RangeError) refuse(pointer, error.message);
    throw error;
  }
}

function refuse(pointer: string, detail: string): never {
  throw new Problem('invalid-request', detail, { errors: [{ pointer, detail }] });
}
