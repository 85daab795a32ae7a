import type { Transaction } from '../../database/transaction.js';
import { totalMinutes, waitsBetween } from '../../trade/calendar/production-lead-time.js';
import { Decimal } from '../../trade/money/money.js';
import type { Course } from '../courses/contract.js';
import type { Plan } from '../courses/plan-contract.js';
import { getCourse, getPlan } from '../courses/service.js';
import { getUsualFill } from '../firings/service.js';
import { getKiln, getSchedule } from '../kilns/service.js';
import { loadPerStudent } from '../pricing/firings.js';
import { getRemakes } from '../pricing/remakes.js';
import { getStudio } from '../settings/service.js';
import type { KilnLoad, KilnLoads } from './contract.js';

const MINUTE_MILLISECONDS = 60_000;
const HOUR_MINUTES = 60;

type Purpose = Plan['sessions'][number]['purpose'];

/** The sessions that make ware ready for a kind of firing, and the one that needs it fired; a firing after that serves nobody yet. */
const BETWEEN: Record<string, { after: readonly Purpose[]; before: readonly Purpose[] }> = {
  bisque: { after: ['making', 'finishing', 'slip'], before: ['glazing'] },
  glaze: { after: ['glazing'], before: ['lustre'] },
};
const LAST = { after: ['lustre'], before: [] } as const satisfies (typeof BETWEEN)[string];

/**
 * Which loads a course causes, in the order of its plan, and when: each after the last session whose ware it takes, dried before its
 * first firing, and after the firing before it; out and cold before the first session that needs it. The least: queues come on top.
 */
export async function listKilnLoads(tx: Transaction, courseId: string): Promise<KilnLoads> {
  const planned = await getCourse(tx, courseId);
  if (planned.cancelled) return { courseId, places: planned.places, loads: [] };
  const plan = await getPlan(tx, planned.planId);
  const remade = await getRemakes(tx, await getStudio(tx));
  const loads: KilnLoad[] = [];
  let coldAt = Number.NEGATIVE_INFINITY;
  for (const [i, { kilnId, scheduleId }] of plan.firings.entries()) {
    const [kiln, schedule] = [await getKiln(tx, kilnId), await getSchedule(tx, scheduleId)];
    const { after, before } = BETWEEN[schedule.kind] ?? LAST;
    const made = endOf(planned, after);
    const dry = i === 0 ? totalMinutes(waitsBetween(plan.dryingDays, [])) : 0;
    const from = Math.max(made + dry * MINUTE_MILLISECONDS, coldAt);
    coldAt =
      from + totalMinutes(waitsBetween(0, [{ ...schedule, coolingHours: kiln.coolingHours }])) * MINUTE_MILLISECONDS;
    const outBy = beginOf(planned, before, made);
    const fill = await getUsualFill(tx, kiln, schedule.kind);
    const perStudent = loadPerStudent(plan, kiln, { kind: schedule.kind, fill, times: remade.times(schedule.kind) });
    loads.push({
      ...{ kilnId, kiln: kiln.name, scheduleId, schedule: schedule.name, perStudent },
      ifFull: new Decimal(perStudent).times(planned.places).toFixed(),
      from: new Date(from).toISOString(),
      outBy: outBy === null ? null : new Date(outBy).toISOString(),
      spareHours: outBy === null ? null : Math.floor((outBy - coldAt) / MINUTE_MILLISECONDS / HOUR_MINUTES),
    });
  }
  return { courseId, places: planned.places, loads };
}

/** When the last session of one of these purposes ends; of none, when the course does: what it made must come from somewhere. */
function endOf({ sessions }: Course, purposes: readonly Purpose[]): number {
  const last = sessions.findLast(({ purpose }) => purposes.includes(purpose));
  return Date.parse((last ?? sessions.at(-1))?.endsAt ?? '');
}

function beginOf({ sessions }: Course, purposes: readonly Purpose[], after: number): number | null {
  const next = sessions.flatMap(({ purpose, startsAt }) => {
    const at = Date.parse(startsAt);
    return purposes.includes(purpose) && at >= after ? [at] : [];
  });
  return next.length === 0 ? null : Math.min(...next);
}
