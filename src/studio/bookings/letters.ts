import type { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
import { cautionsOf } from '../../documents/hazard-words.js';
import { moneyInText } from '../../documents/words.js';
import { newId } from '../../http/ids.js';
import type { BookingData } from '../../mail/templates/booking.js';
import type { BookingCancelledData } from '../../mail/templates/booking-cancelled.js';
import type { BookingMovedData } from '../../mail/templates/booking-moved.js';
import type { HoldLapsedData } from '../../mail/templates/hold-lapsed.js';
import type { PlaceCancelledData } from '../../mail/templates/place-cancelled.js';
import type { PlaceConfirmedData } from '../../mail/templates/place-confirmed.js';
import type { PlaceFilledData } from '../../mail/templates/place-filled.js';
import type { Visit } from '../../mail/templates/visit.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { formatDay } from '../../trade/text/format.js';
import { stillDue } from '../accounts/charges/charge-state.js';
import type { Course } from '../courses/contract.js';
import { hazardsOfPlans } from '../courses/hazards.js';
import { momentInWords, sessionInWords } from '../courses/session-dates.js';
import { getTermsOfSale } from '../courses/terms-of-sale.js';
import type { Occasion } from '../notices/contract.js';
import { notify } from '../notices/service.js';
import type { Studio } from '../settings/contract.js';
import { getStudio } from '../settings/service.js';
import type { Booking } from './contract.js';
import { comersOf } from './groups/comers.js';
import { confirmToOthers } from './letters-to-others.js';
import { insertBookingNotice } from './queries.js';
import { getRefundTerms } from './refund-terms.js';

/** Tells the payer what was booked, for how much, and until when it is held for its deposit: in words, frozen as it was booked. */
export async function writeBookingLetter(
  tx: Transaction,
  now: Date,
  booking: Booking,
  course: Course,
  studio: Studio,
  included: string | null,
): Promise<void> {
  const money = moneyInText(studio);
  const firstDay = localDay(new Date(booking.heldUntil ?? now), studio.timeZone);
  const open = stillDue(booking.instalments, booking.priceMinor - booking.owedMinor);
  const later = open.filter(({ dueOn }) => dueOn > firstDay);
  const firstMinor = later.reduce((left, { amountMinor }) => left - amountMinor, booking.owedMinor);
  const dueMore = firstMinor > booking.depositMinor;
  const data: z.output<typeof BookingData> = {
    ...(await visitOf(tx, booking, course, studio)),
    price: money(booking.owedMinor),
    included: included === null ? null : { what: included, amount: money(booking.priceMinor - booking.owedMinor) },
    deposit: booking.depositMinor > 0 ? money(booking.depositMinor) : null,
    heldUntil: booking.heldUntil === null ? null : momentInWords(booking.heldUntil, studio),
    dueNow: dueMore ? money(firstMinor) : null,
    dueNowBy: dueMore && booking.heldUntil !== null ? formatDay(firstDay, studio.locale) : null,
    balance: paymentsInWords(later, studio),
  };
  const isNew = await notifyOnce(tx, now, booking, 'booking', data);
  if (isNew && booking.state === 'confirmed') await confirmToOthers(tx, now, booking, data);
}

/** Tells the payer that the deposit has come and the place is confirmed, what is still to pay, and how to get here. */
export async function writeConfirmation(tx: Transaction, now: Date, booking: Booking, course: Course): Promise<void> {
  const studio = await getStudio(tx);
  const open = stillDue(booking.instalments, booking.priceMinor - booking.owedMinor);
  const data: z.output<typeof PlaceConfirmedData> = {
    ...(await visitOf(tx, booking, course, studio)),
    paid: moneyInText(studio)(booking.paidMinor),
    balance: paymentsInWords(open, studio),
  };
  if (await notifyOnce(tx, now, booking, 'placeConfirmed', data)) await confirmToOthers(tx, now, booking, data);
}

/** Tells the payer that the deposit did not come in time; `held` is the booking before it was cancelled for that. */
export async function writeLapse(tx: Transaction, now: Date, held: Booking, course: Course): Promise<void> {
  const studio = await getStudio(tx);
  const data: z.output<typeof HoldLapsedData> = {
    course: course.title,
    attendees: comersOf(held),
    heldUntil: momentInWords(held.heldUntil ?? now, studio),
    deposit: moneyInText(studio)(held.depositMinor),
  };
  await notifyOnce(tx, now, held, 'holdLapsed', data);
}

/**
 * Tells the payer that a booking is cancelled, where no money goes back; where it does, the letter of the refund says so. `before` is
 * the booking as it was; the explanation says why nothing goes back, and what follows where its place is filled again.
 */
export async function writeCancellation(
  tx: Transaction,
  now: Date,
  before: Booking,
  explanation: string | undefined,
): Promise<void> {
  const charge = await tx.charge.findUniqueOrThrow({ where: { id: before.chargeId }, select: { description: true } });
  const paid = before.paidMinor > 0;
  const data: z.output<typeof BookingCancelledData> = {
    booking: charge.description,
    paid: paid ? moneyInText(await getStudio(tx))(before.paidMinor) : null,
    explanation: paid && explanation !== undefined ? explanation : null,
  };
  await notifyOnce(tx, now, before, 'bookingCancelled', data);
}

/**
 * Tells the payer that places are cancelled while others of the booking stay, where no money goes back; where it does, the letter of
 * the refund says so. `booking` is what is left of it.
 */
export async function writePlaceCancelled(
  tx: Transaction,
  now: Date,
  booking: Booking,
  { leaving, paidMinor, explanation }: { leaving: string[]; paidMinor: number; explanation: string | undefined },
): Promise<void> {
  const charge = await tx.charge.findUniqueOrThrow({ where: { id: booking.chargeId }, select: { description: true } });
  const studio = await getStudio(tx);
  const money = moneyInText(studio);
  const { heldUntil, depositMinor, owedMinor } = booking;
  const data: z.output<typeof PlaceCancelledData> = {
    booking: charge.description,
    cancelled: leaving,
    staying: comersOf(booking),
    paid: paidMinor > 0 ? money(paidMinor) : null,
    explanation: paidMinor > 0 && explanation !== undefined ? explanation : null,
    owed: owedMinor > 0 ? money(owedMinor) : null,
    hold:
      heldUntil === null
        ? null
        : { until: momentInWords(heldUntil, studio), deposit: money(depositMinor - booking.paidMinor) },
  };
  await notify(tx, now, { personId: booking.payerId, occasion: 'placeCancelled', data });
}

type Moved = {
  before: string;
  priceBeforeMinor: number;
  carriedMinor: number;
  keptMinor: number;
  refundMinor: number;
  creditMinor: number;
  receipt: { receiptNumber: string; documentId: string } | null;
};

/** Tells the payer that a booking was moved to another course, what became of the money, and all there is to know of the new one. */
export async function writeBookingMoved(
  tx: Transaction,
  now: Date,
  booking: Booking,
  course: Course,
  { before, receipt, ...sums }: Moved,
): Promise<void> {
  const studio = await getStudio(tx);
  const money = moneyInText(studio);
  const some = (minor: number) => (minor > 0 ? money(minor) : null);
  const { heldUntil, depositMinor, paidMinor, priceMinor, owedMinor } = booking;
  const data: z.output<typeof BookingMovedData> = {
    ...(await visitOf(tx, booking, course, studio)),
    ...{ before, priceBefore: money(sums.priceBeforeMinor), price: money(priceMinor) },
    carried: receipt && { amount: money(sums.carriedMinor), receiptNumber: receipt.receiptNumber },
    kept: some(sums.keptMinor),
    refund: some(sums.refundMinor - sums.creditMinor),
    credit: some(sums.creditMinor),
    hold:
      heldUntil === null ? null : { until: momentInWords(heldUntil, studio), deposit: money(depositMinor - paidMinor) },
    balance: paymentsInWords(stillDue(booking.instalments, priceMinor - owedMinor), studio),
  };
  const documentId = receipt?.documentId;
  await notifyOnce(tx, now, booking, 'bookingMoved', data, documentId);
}

/** Tells who gave places up that some are filled again, and what therefore goes back. @returns the notice's id */
export async function writeFilledAgain(
  tx: Transaction,
  now: Date,
  bookingId: string,
  { filled, places, amountMinor }: { filled: number; places: number; amountMinor: number },
): Promise<string> {
  const { payerId, charge } = await tx.booking.findUniqueOrThrow({
    where: { id: bookingId },
    include: { charge: true },
  });
  const all = places === 1 ? 'Your place has' : `Your ${places} places have`;
  const data: z.output<typeof PlaceFilledData> = {
    booking: charge.description,
    places: filled === places ? all : `${filled} of your ${places} places ${filled === 1 ? 'has' : 'have'}`,
    amount: moneyInText(await getStudio(tx))(amountMinor),
  };
  return notify(tx, now, { personId: payerId, occasion: 'placeFilled', data });
}

/** What who comes to a course must know. */
export async function visitOf(
  tx: Transaction,
  booking: Pick<Booking, 'attendees' | 'unnamed'>,
  course: Course,
  studio: Studio,
): Promise<Visit> {
  const { refundPolicy } = await getTermsOfSale(tx, course.id);
  return {
    course: course.title,
    sessions: course.sessions.map((session) => `${sessionInWords(session, studio)}, ${session.roomName}`),
    attendees: comersOf(booking),
    directions: studio.directions,
    hazards: cautionsOf((await hazardsOfPlans(tx, [course.planId])).get(course.planId) ?? [], studio.locale),
    howToPay: studio.howToPayCourses,
    note: course.note,
    refundTerms: getRefundTerms(refundPolicy, studio),
  };
}

/** Sums and the days by which they are asked for. */
export const paymentsInWords = (payments: readonly { dueOn: string; amountMinor: number }[], studio: Studio) =>
  payments.map(({ dueOn, amountMinor }) => ({
    amount: moneyInText(studio)(amountMinor),
    by: formatDay(dueOn, studio.locale),
  }));

/**
 * One message of each occasion for a booking: a second one would be of nothing new. Call it under the course's lock.
 * @returns whether it is the first
 */
async function notifyOnce(
  tx: Transaction,
  now: Date,
  { id, payerId }: Booking,
  occasion: Occasion,
  data: object,
  documentId?: string,
): Promise<boolean> {
  const noticeId = newId();
  if (!(await insertBookingNotice(tx, { bookingId: id, occasion, noticeId }))) return false;
  await notify(tx, now, { id: noticeId, personId: payerId, occasion, data, ...(documentId && { documentId }) });
  return true;
}
