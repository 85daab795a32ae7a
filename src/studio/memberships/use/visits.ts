import type { Transaction } from '../../../database/transaction.js';
import { toDate } from '../../../database/values.js';
import { Problem } from '../../../problems.js';
import { localDay, monthOf } from '../../../trade/calendar/calendar.js';
import { type IncludedSession, includeVisit } from '../../../trade/money/membership-use.js';
import { formatDay } from '../../../trade/text/format.js';
import { creditAndRefund } from '../../accounts/charges/charges.js';
import type { Studio } from '../../settings/contract.js';
import { hoursInWords, monthInWords } from '../words.js';
import { getBenchLeft, includesOn, listVisits, lockMembers } from './queries.js';

type Session = { id: string; startsAt: string; endsAt: string };
/** What a membership includes of somebody's place. */
export type IncludedVisit = {
  personId: string;
  membershipId: string;
  includedMinor: number;
  sessions: IncludedSession[];
};

const MINUTE_MILLISECONDS = 60_000;

/**
 * What memberships include of places of open studio, by who comes: as many minutes as each has left in the session's month. Their
 * memberships are locked until the transaction ends, so that nothing is included twice. Nobody's is asked for who is no member.
 */
export async function includeVisits(
  tx: Transaction,
  studio: Studio,
  sessions: readonly Session[],
  places: readonly { personId: string; priceMinor: number }[],
  butBookingId: string | null,
): Promise<IncludedVisit[]> {
  const members = await lockMembers(
    tx,
    places.map(({ personId }) => personId),
    'bench',
  );
  const visits: IncludedVisit[] = [];
  for (const { personId, priceMinor } of places) {
    const dated = sessions.map((session) => ({ session, day: localDay(new Date(session.startsAt), studio.timeZone) }));
    const own = members.filter((member) => member.personId === personId);
    for (const member of own) {
      const covered = dated.filter(({ day }) => includesOn(member, day)).map(({ day }) => monthOf(day));
      if (covered.length === 0) continue;
      const left = await getBenchLeft(tx, member, covered, butBookingId);
      const benches = dated.map(({ session, day }) => ({
        id: session.id,
        month: includesOn(member, day) ? monthOf(day) : '',
        minutes: (Date.parse(session.endsAt) - Date.parse(session.startsAt)) / MINUTE_MILLISECONDS,
      }));
      const included = includeVisit(benches, left, priceMinor);
      const includedMinor = included.reduce((sum, session) => sum + session.includedMinor, 0);
      if (included.length === 0) continue;
      visits.push({ personId, membershipId: member.id, includedMinor, sessions: included });
      break; // of two, one after the other, the first that includes some of it
    }
  }
  return visits;
}

/** Notes what is included of places that were just booked, and takes it off their charge. */
export async function noteVisits(
  tx: Transaction,
  now: Date,
  { chargeId, placeIds, studio }: { chargeId: string; placeIds: ReadonlyMap<string, string>; studio: Studio },
  visits: readonly IncludedVisit[],
): Promise<void> {
  if (visits.length === 0) return;
  await tx.membershipVisit.createMany({
    data: visits.flatMap(({ personId, membershipId, sessions }) =>
      sessions.map(({ id: sessionId, month, includedMinutes, includedMinor }) => ({
        ...{ placeId: placeIds.get(personId) ?? '', sessionId, membershipId, month: toDate(month) },
        ...{ minutes: includedMinutes, includedMinor },
      })),
    ),
  });
  const unpaidMinor = visits.reduce((sum, visit) => sum + visit.includedMinor, 0);
  const reason = `Included in the membership: ${visitsInWords(visits, studio)}`;
  await creditAndRefund(tx, now, chargeId, { unpaidMinor, refundMinor: 0, reason });
}

/** "3 hours of March 2026" */
export function visitsInWords(visits: readonly Pick<IncludedVisit, 'sessions'>[], { locale }: Studio): string {
  const minutes = new Map<string, number>();
  for (const { month, includedMinutes } of visits.flatMap(({ sessions }) => sessions))
    minutes.set(month, (minutes.get(month) ?? 0) + includedMinutes);
  return [...minutes]
    .map(([month, sum]) => `${hoursInWords(sum, locale)} of ${monthInWords(month, locale)}`)
    .join(', ');
}

/** Refuses an end or a pause on whose days visits are booked that the membership was to include. */
export async function refuseWithVisits(
  tx: Transaction,
  membershipId: string,
  days: { from: string; to: string | null },
  { locale }: Studio,
): Promise<void> {
  const visits = await listVisits(tx, membershipId, days);
  const [first] = visits;
  if (!first) return;
  const more = visits.length === 1 ? '' : `, and ${visits.length - 1} more`;
  throw new Problem(
    'outside-membership',
    `${first.title} on ${formatDay(first.day, locale)}${more} is booked as included on these days. Cancel that first, or choose other days.`,
    { visits: visits.length },
  );
}
