import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { formatMoneyInText } from '../../trade/money/money.js';
import { stillDue } from '../accounts/charges/charge-state.js';
import { moveCharge } from '../accounts/charges/charges.js';
import { refundInMoney } from '../accounts/payments/refunds.js';
import { lockCharges } from '../accounts/queries.js';
import { type Member, noteChange } from '../courses/changes.js';
import type { Course } from '../courses/contract.js';
import { getCourse, lockCourse } from '../courses/service.js';
import { datesInWords } from '../courses/session-dates.js';
import type { Studio } from '../settings/contract.js';
import { getStudio } from '../settings/service.js';
import { refuseTooLate } from './cancellation.js';
import { pricePlaces } from './cancelled-prices.js';
import type { Booking, NewBooking } from './contract.js';
import { methodMissing } from './further-refund.js';
import { fillPlacesGivenUp } from './given-up-places.js';
import { writeBookingMoved } from './letters.js';
import type { BookingMove, NewBookingMove } from './move-contract.js';
import { getBooking } from './read-bookings.js';
import { takePlaces } from './take-places.js';
import { whoIsNext } from './waiting-list/entries.js';

/**
 * Moves a booking to another course: it ends, one on the other course begins, and what was paid for it pays for that one, up to its
 * price. It is no cancellation: no refund tiers apply, and nothing is kept but a fee that the owner names. Both courses are locked in the
 * order of their ids, or two moves could wait for each other.
 */
export async function moveBooking(
  tx: Transaction,
  now: Date,
  member: Member,
  id: string,
  wanted: NewBookingMove,
): Promise<BookingMove> {
  const found = await getBooking(tx, id);
  for (const courseId of [...new Set([found.courseId, wanted.courseId])].sort()) await lockCourse(tx, courseId);
  await lockCharges(tx, [found.chargeId]);
  const before = await getBooking(tx, id); // as it is under the locks
  const [from, to] = [await getCourse(tx, before.courseId), await getCourse(tx, wanted.courseId)];
  const studio = await getStudio(tx);
  await refuseMove(tx, before, from, to, studio);
  const priced = await pricePlaces(tx, before, from, before.attendees);
  const keptMinor = wanted.feeMinor ?? 0;
  if (keptMinor > priced.paidMinor) throw feeTooMuch(priced.paidMinor, studio);

  const { concessions, lost } = concessionsThere(before, to, wanted);
  const attendeeIds = before.attendees.map(({ personId }) => personId);
  const wish = {
    ...{ payerId: before.payerId, attendeeIds, concessions, agesConfirmed: wanted.agesConfirmed },
    unnamed: before.unnamed,
    outsideWindow: true, // moving somebody is the owner's own act
  };
  const taken = await takePlaces(tx, now, to.id, wish, before.id);
  const carriedMinor = Math.min(priced.paidMinor - keptMinor, taken.booking.owedMinor);
  const refundMinor = priced.paidMinor - keptMinor - carriedMinor;
  const sums = { carriedMinor, refundMinor, keptMinor };
  const money = await moveMoney(tx, now, before, taken.booking, sums, { method: wanted.method, title: to.title });
  await endAsMoved(tx, now, member, before, taken.booking, sums, to);

  const booking = await getBooking(tx, taken.booking.id);
  await writeBookingMoved(tx, now, booking, to, {
    ...{ before: `${from.title} (${datesInWords(from.sessions, studio)})`, priceBeforeMinor: priced.priceMinor },
    ...{ ...sums, ...money },
  });
  if (booking.state === 'confirmed' && taken.hasGivenUp) await fillPlacesGivenUp(tx, now, to);
  await noteMove(tx, now, member, before, from, to, studio);
  const { creditMinor, onVoucherMinor } = money;
  return {
    ...{ from: await getBooking(tx, id), booking, courseTitle: to.title },
    ...{ priceBeforeMinor: priced.priceMinor, paidMinor: priced.paidMinor, ...sums, onVoucherMinor, creditMinor },
    stillDue: stillDue(booking.instalments, booking.priceMinor - booking.owedMinor),
    lostConcessions: lost,
    next: await whoIsNext(tx, now, from),
  };
}

async function refuseMove(tx: Transaction, before: Booking, from: Course, to: Course, studio: Studio): Promise<void> {
  refuseTooLate(before, from, studio);
  if (from.id === to.id)
    throw new Problem('already-there', `The booking is on “${to.title}” already. Choose another course.`, {
      bookingId: before.id,
    });
  const makerIds = before.attendees.map(({ personId }) => personId);
  const pieces = await tx.piece.findMany({
    where: { courseId: from.id, makerId: { in: makerIds } },
    select: { maker: { select: { name: true } } },
    orderBy: { serial: 'asc' },
  });
  const [first] = pieces;
  if (first)
    throw new Problem(
      'wrong-stage',
      `${first.maker.name} has made ware on “${from.title}”, whose price pays for it. Cancel the booking instead, with the refund that you decide, and book a place on “${to.title}”.`,
      { pieces: pieces.length },
    );
}

function feeTooMuch(paidMinor: number, { currency, locale }: Studio): Problem {
  const sentence =
    paidMinor === 0
      ? 'Nothing was paid, so no fee can be kept. Leave it at nothing.'
      : `Only ${formatMoneyInText(paidMinor, currency, locale)} was paid; no more can be kept.`;
  return new Problem('more-than-owed', sentence, {
    paidMinor,
    errors: [{ pointer: '#/feeMinor', detail: 'is more than was paid' }],
  });
}

type Concessions = { concessions?: NewBooking['concessions']; lost: BookingMove['lostConcessions'] };

/** Who pays which concession on the new course: as the owner says, or one of the same name where there is one. */
function concessionsThere({ attendees }: Booking, to: Course, { concessions }: NewBookingMove): Concessions {
  if (concessions !== undefined) return { concessions, lost: [] };
  const lost: Concessions['lost'] = [];
  const kept = attendees.flatMap(({ personId, name, concession }) => {
    if (concession === null) return [];
    const same = to.concessions.find(({ label }) => label === concession);
    if (same) return [{ attendeeId: personId, concessionId: same.id }];
    lost.push({ personId, name, concession });
    return [];
  });
  return { concessions: kept, lost };
}

type Sums = { carriedMinor: number; refundMinor: number; keptMinor: number };
type Money = { receipt: Awaited<ReturnType<typeof moveCharge>>; onVoucherMinor: number; creditMinor: number };

/** Ends the old charge and pays of the new one; who had paid their deposit stays confirmed, though the new one may be higher. */
async function moveMoney(
  tx: Transaction,
  now: Date,
  before: Booking,
  { id, chargeId, depositMinor }: Booking,
  { carriedMinor, refundMinor }: Sums,
  { method, title }: { method: NewBookingMove['method']; title: string },
): Promise<Money> {
  const moneyMinor = await refundInMoney(tx, before.chargeId, refundMinor);
  if (moneyMinor > 0 && method === undefined) throw methodMissing(refundMinor, moneyMinor);
  const sums = { carriedMinor, refundMinor, method, reason: `moved to ${title}` };
  const receipt = await moveCharge(tx, now, { fromId: before.chargeId, toId: chargeId, ...sums });
  if (before.state === 'confirmed' && carriedMinor > 0 && carriedMinor < depositMinor)
    await tx.booking.update({ where: { id }, data: { depositMinor: carriedMinor } });
  return {
    ...{ receipt, onVoucherMinor: refundMinor - moneyMinor },
    creditMinor: method === 'credit' ? moneyMinor : 0,
  };
}

async function endAsMoved(
  tx: Transaction,
  now: Date,
  { staffMemberId: movedById }: Member,
  { id: bookingId }: Booking,
  { id: toId }: Booking,
  sums: Sums,
  { title }: Course,
): Promise<void> {
  const data = { cancelledAt: now, cancelledBecause: `moved to “${title}”`, movedToId: toId };
  await tx.booking.update({ where: { id: bookingId }, data });
  await tx.bookingMove.create({ data: { bookingId, toId, movedAt: now, movedById, ...sums } });
}

/** In the history of both courses. */
async function noteMove(
  tx: Transaction,
  now: Date,
  member: Member,
  { payerName, attendees }: Booking,
  from: Course,
  to: Course,
  studio: Studio,
): Promise<void> {
  const what = `${payerName}’s booking of ${attendees.length === 1 ? 'one place' : `${attendees.length} places`}`;
  const called = ({ title, sessions }: Course) => `“${title}”, ${datesInWords(sessions, studio)}`;
  await noteChange(tx, now, member, from.id, `${what} was moved to ${called(to)}.`);
  await noteChange(tx, now, member, to.id, `${what} was moved here from ${called(from)}.`);
}
