import type { Transaction } from '../../database/transaction.js';
import { cautionsOf } from '../../documents/hazard-words.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { hazardsIn, hazardsOfPlans } from '../courses/hazards.js';
import type { Studio } from '../settings/contract.js';
import type { TodaySession } from './contract.js';
import type { ReportDay } from './day.js';
import { listComing, listDaySessions } from './queries.js';

/**
 * The sessions of a day and who is coming; where there is none, those of the next day that has any.
 *
 * @param lapsed bookings whose hold has run out
 */
export async function sessionsOf(
  tx: Transaction,
  now: Date,
  today: ReportDay,
  { timeZone, locale }: Pick<Studio, 'timeZone' | 'locale'>,
  lapsed: readonly string[],
): Promise<{ sessions: TodaySession[]; nextSessionsOn: string | null }> {
  const rows = await listDaySessions(tx, now, today, timeZone);
  const courseIds = [...new Set(rows.map(({ courseId }) => courseId))];
  const coming = groupBy(await listComing(tx, courseIds, lapsed), ({ courseId }) => courseId);
  const hazards = await hazardsOfPlans(tx, [...new Set(rows.map(({ planId }) => planId))]);
  const sessions = rows.map(({ planId, purposes, startsAt, endsAt, ...row }): TodaySession => {
    const all = (coming.get(row.courseId) ?? []).filter(({ sessionId }) => [null, row.sessionId].includes(sessionId));
    const comers = all
      .filter(({ away }) => !away.includes(row.sessionId))
      .map(({ personId, name, provisional, makesUp }) => ({ personId, name, provisional, makesUp }));
    const own = hazardsIn(hazards.get(planId) ?? [], row.purpose, purposes);
    return {
      ...row,
      ...{ startsAt: startsAt.toISOString(), endsAt: endsAt.toISOString() },
      ...{ booked: all.length, coming: comers, hazards: cautionsOf(own, locale) },
    };
  });
  const later = rows.find(({ startsAt }) => startsAt >= today.endsAt);
  return { sessions, nextSessionsOn: later ? localDay(later.startsAt, timeZone) : null };
}
