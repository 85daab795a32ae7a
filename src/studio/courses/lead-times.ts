import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import {
  gapBefore,
  hoursInWords,
  type ProductionPlan,
  type Purpose,
  type Wait,
} from '../../trade/calendar/production-lead-time.js';
import { getKiln, getSchedule } from '../kilns/service.js';
import type { Studio } from '../settings/contract.js';
import type { Plan } from './plan-contract.js';
import { momentInWords } from './session-dates.js';

type Dated = { startsAt: string; endsAt: string; purpose: Purpose; ordinal: number };

/** Refuses a session that the ware of the last one before it can't reach: not dry, not fired, or still in a hot kiln. */
export async function refuseTooSoon(
  tx: Transaction,
  studio: Studio,
  plan: Plan,
  sessions: readonly Dated[],
): Promise<void> {
  const first = (await findTooSoon(tx, studio, plan, sessions)).find((problem) => problem !== null);
  if (first) throw first;
}

/** For each session what is in its way there; null where its ware can be ready. */
export async function findTooSoon(
  tx: Transaction,
  studio: Studio,
  plan: Plan,
  sessions: readonly Dated[],
): Promise<(Problem | null)[]> {
  const firings = await firingsOf(tx, plan);
  const purposes = sessions.map(({ purpose }) => purpose);
  return sessions.map((session, i) => {
    const gap = gapBefore({ purposes, dryingDays: plan.dryingDays, firings }, i);
    const before = sessions[gap?.after ?? -1];
    if (!gap || !before) return null;
    const earliest = new Date(Date.parse(before.endsAt) + gap.minutes * 60_000);
    if (new Date(session.startsAt) >= earliest) return null;
    return new Problem(
      'too-soon',
      `Session ${session.ordinal} (${session.purpose}) can't begin before ${momentInWords(earliest, studio)}: the ware of session ${before.ordinal} needs ${inWords(gap.waits)} first. Choose a later time, or correct the plan's drying days or the kiln's cooling hours.`,
      { session: session.ordinal, earliest: earliest.toISOString() },
    );
  });
}

async function firingsOf(tx: Transaction, { firings }: Plan): Promise<ProductionPlan['firings']> {
  const found: ProductionPlan['firings'][number][] = [];
  for (const { kilnId, scheduleId } of firings) {
    const { name, kind, segments } = await getSchedule(tx, scheduleId);
    found.push({ name, kind, segments, coolingHours: (await getKiln(tx, kilnId)).coolingHours });
  }
  return found;
}

const inWords = (waits: readonly Wait[]): string =>
  waits.map(({ what, hours }) => `${hoursInWords(hours)} of ${what}`).join(', ');
