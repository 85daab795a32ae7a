import type { Transaction } from '../../../database/transaction.js';
import { moneyInText } from '../../../documents/words.js';
import type { SessionCancelledData } from '../../../mail/templates/session-cancelled.js';
import { lockVouchersOf } from '../../accounts/payments/refunds.js';
import { lockCharges } from '../../accounts/queries.js';
import { type CancelledSession, cancelSession, partOfPriceMinor } from '../../courses/cancel-session.js';
import type { NewSessionCancellation } from '../../courses/change-contract.js';
import { type Member, noteChange } from '../../courses/changes.js';
import { hasBegun } from '../../courses/service.js';
import { notify } from '../../notices/service.js';
import type { Studio } from '../../settings/contract.js';
import { getStudio } from '../../settings/service.js';
import type { Booking } from '../contract.js';
import { fillPlacesGivenUp } from '../given-up-places.js';
import { writeConfirmation } from '../letters.js';
import { endMakeUpsAt } from '../make-ups/service.js';
import type { GivenBack, SessionCancellation } from './cancel-contract.js';
import { listConcerned, sessionTold, showConcerned, tellOthers } from './concerned.js';
import { giveBack, offInWords, refuseMoreThanPrice } from './give-back.js';

/** Cancels one session, gives back for it what the owner says, and tells everybody who has a place. */
export async function cancelSessionAndNotify(
  tx: Transaction,
  now: Date,
  member: Member,
  sessionId: string,
  wanted: NewSessionCancellation,
): Promise<SessionCancellation> {
  const cancelled = await cancelSession(tx, now, member, sessionId, wanted.reason);
  const { before: course, session, after } = cancelled;
  await endMakeUpsAt(tx, now, [sessionId], wanted.reason);
  const studio = await getStudio(tx);
  refuseMoreThanPrice(course, wanted.backMinor, studio);
  const bookings = await lockConcerned(tx, now, course.id);
  const concerned: GivenBack[] = [];
  for (const booking of bookings) concerned.push(await tellOne(tx, now, booking, cancelled, wanted, studio));
  const data = dataOf(cancelled, wanted.reason, studio);
  const alsoTold = await tellOthers(tx, now, bookings, 'sessionCancelled', (attendees) => data(attendees, null));
  const sum = (of: (one: GivenBack) => number) => concerned.reduce((total, one) => total + of(one), 0);
  const backMinor = sum((one) => one.backMinor);
  if (backMinor > 0) {
    const what = `For session ${session.ordinal}, ${moneyInText(studio)(backMinor)} was given back in all.`;
    await noteChange(tx, now, member, course.id, what);
  }
  return {
    session: after.cancelledSessions.find(({ id }) => id === sessionId) ?? session,
    partMinor: partOfPriceMinor(course, session),
    ...{ concerned, alsoTold, warnings: warningsOf(cancelled) },
    totals: {
      backMinor,
      offMinor: sum(({ offMinor }) => offMinor),
      refundMinor: sum(({ refundMinor }) => refundMinor),
      onVoucherMinor: sum(({ onVoucherMinor }) => onVoucherMinor),
    },
  };
}

/** The bookings that it concerns, with their charges and the vouchers that paid for them locked in their order. */
async function lockConcerned(tx: Transaction, now: Date, courseId: string): Promise<Booking[]> {
  const chargeIds = (await listConcerned(tx, now, courseId)).map(({ chargeId }) => chargeId);
  await lockCharges(tx, chargeIds);
  await lockVouchersOf(tx, chargeIds);
  return listConcerned(tx, now, courseId);
}

async function tellOne(
  tx: Transaction,
  now: Date,
  before: Booking,
  cancelled: CancelledSession,
  wanted: NewSessionCancellation,
  studio: Studio,
): Promise<GivenBack> {
  const { before: course, after } = cancelled;
  const shown = showConcerned(before);
  const data = dataOf(cancelled, wanted.reason, studio);
  const letter = (back: SessionCancelledData['back']) => data(shown.attendees, back);
  const back = await giveBack(tx, now, before, course, wanted, { studio, letter });
  if (back.refundMinor === 0)
    await notify(tx, now, {
      ...{ personId: before.payerId, occasion: 'sessionCancelled' },
      data: letter(offInWords(back, studio)),
    });
  const { booking, ...sums } = back;
  if (before.state === 'provisional' && booking.state === 'confirmed' && !hasBegun(after, now)) {
    await writeConfirmation(tx, now, booking, after); // what was paid is now all of its deposit
    await fillPlacesGivenUp(tx, now, after);
  }
  return { ...shown, ...sums, owedMinor: booking.owedMinor };
}

const dataOf =
  ({ before: course, session, after }: CancelledSession, reason: string, studio: Studio) =>
  (attendees: string[], back: SessionCancelledData['back']): SessionCancelledData => ({
    ...{ course: course.title, attendees, session: sessionTold(session, studio), reason, back },
    sessions: after.sessions.map((one) => sessionTold(one, studio)),
  });

/** What cannot be done any more without the session. */
function warningsOf({ before, session, after }: CancelledSession): string[] {
  const hadLast = (purpose: string) =>
    session.purpose === purpose && !after.sessions.some((one) => one.purpose === purpose);
  const makes = before.sessions.some(({ purpose }) => purpose === 'making');
  return [
    ...(hadLast('glazing') && makes ? ['No session for glazing is left. Add one, or glaze for them.'] : []),
    ...(hadLast('making') && after.sessions.some(({ purpose }) => purpose === 'glazing')
      ? ['No session for making is left, so there is nothing to glaze. Add one.']
      : []),
  ];
}
