import type { Transaction } from '../../../database/transaction.js';
import { moneyInText } from '../../../documents/words.js';
import type { SessionCancelledData } from '../../../mail/templates/session-cancelled.js';
import { Problem } from '../../../problems.js';
import { Decimal, roundHalfUp } from '../../../trade/money/money.js';
import { creditPart } from '../../accounts/charges/charges.js';
import type { MoneyMethod } from '../../accounts/contract.js';
import type { PaidBack } from '../../accounts/payments/record-payment.js';
import { lastMoneyMethod, refundInMoney } from '../../accounts/payments/refunds.js';
import type { Course } from '../../courses/contract.js';
import type { Studio } from '../../settings/contract.js';
import { paidBackInWords } from '../cancel-course/letters.js';
import { pricePlaces } from '../cancelled-prices.js';
import type { Booking } from '../contract.js';
import { getBooking } from '../read-bookings.js';

export type Back = {
  backMinor: number;
  offMinor: number;
  refundMinor: number;
  onVoucherMinor: number;
  method: MoneyMethod | null;
  /** the booking after it */
  booking: Booking;
};
type Wanted = { backMinor: number; reason: string; method?: MoneyMethod | undefined };
type Letter = (back: SessionCancelledData['back']) => object;

/** Refuses to give more back for a session than a place costs. */
export function refuseMoreThanPrice({ priceMinor }: Course, backMinor: number, studio: Studio): void {
  if (backMinor > priceMinor)
    throw new Problem('more-than-owed', `The price is ${moneyInText(studio)(priceMinor)}. Give back at most that.`, {
      errors: [{ pointer: '#/backMinor', detail: `must be at most ${priceMinor}` }],
    });
}

/**
 * Gives a sum back for each place of a booking: first off what is owed, and what is more than that is refunded, with a credit note,
 * which `letter` goes with. What a place costs is lower from then on, and so is a deposit that was all of it. Call it under the locks.
 */
export async function giveBack(
  tx: Transaction,
  now: Date,
  before: Booking,
  course: Course,
  { backMinor: eachMinor, reason, method: said }: Wanted,
  { studio, letter }: { studio: Studio; letter: Letter },
): Promise<Back> {
  const { id, chargeId } = before;
  const parts = await partsOf(tx, before, course, eachMinor);
  const { priceMinor: leftMinor } = await pricePlaces(tx, before, course, before.attendees);
  const backMinor = Math.min(
    leftMinor,
    parts.reduce((sum, part) => sum + part.backMinor, 0),
  );
  const nothing = { backMinor: 0, offMinor: 0, refundMinor: 0, onVoucherMinor: 0, method: null, booking: before };
  if (backMinor === 0) return nothing;
  const offMinor = Math.min(backMinor, before.owedMinor);
  const refundMinor = backMinor - offMinor;
  const moneyMinor = await refundInMoney(tx, chargeId, refundMinor);
  const method = moneyMinor === 0 ? undefined : (said ?? (await lastMoneyMethod(tx, chargeId)));
  const toSay = (paidBack: readonly PaidBack[], creditNoteNumber: string | null) =>
    backInWords({ backMinor, offMinor, owedMinor: before.owedMinor - offMinor }, paidBack, creditNoteNumber, studio);
  await creditPart(tx, now, chargeId, {
    ...{ amountMinor: backMinor, method, reason },
    letter: ({ creditNoteNumber, paidBack }) => ({
      occasion: 'sessionCancelled',
      data: letter(toSay(paidBack, creditNoteNumber)),
    }),
  });
  for (const { placeId, backMinor: partMinor, priceMinor, depositMinor } of parts)
    if (placeId !== null) await lowerPlace(tx, placeId, priceMinor - partMinor, depositMinor);
  const paidMinor = before.paidMinor - refundMinor;
  const mostMinor = before.state === 'confirmed' ? paidMinor : paidMinor + before.owedMinor - offMinor;
  const depositMinor = Math.min(before.depositMinor, mostMinor);
  await tx.booking.update({ where: { id }, data: { depositMinor } });
  const booking = await getBooking(tx, id);
  const onVoucherMinor = refundMinor - moneyMinor;
  return { backMinor, offMinor, refundMinor, onVoucherMinor, method: method ?? null, booking };
}

const lowerPlace = (tx: Transaction, id: string, priceMinor: number, depositMinor: number) =>
  tx.place.update({ where: { id }, data: { priceMinor, depositMinor: Math.min(depositMinor, priceMinor) } });

type Part = { placeId: string | null; priceMinor: number; depositMinor: number; backMinor: number };

/** What each place gets back: a concession the same part of its price, and none more than it costs; a private group has one price. */
async function partsOf(
  tx: Transaction,
  { id, owedMinor, paidMinor }: Booking,
  course: Course,
  eachMinor: number,
): Promise<Part[]> {
  if (course.kind === 'private')
    return [{ placeId: null, priceMinor: owedMinor + paidMinor, depositMinor: 0, backMinor: eachMinor }];
  const rows = await tx.place.findMany({
    where: { bookingId: id },
    include: { concession: true },
    orderBy: { id: 'asc' },
  });
  return rows.map((row) => {
    const priceMinor = row.priceMinor ?? 0;
    const sold = row.concession?.priceMinor ?? course.priceMinor;
    const shareMinor = roundHalfUp(new Decimal(eachMinor).times(sold).div(course.priceMinor));
    return {
      ...{ placeId: row.id, priceMinor, depositMinor: row.depositMinor ?? 0 },
      backMinor: Math.min(priceMinor, shareMinor),
    };
  });
}

function backInWords(
  { backMinor, offMinor, owedMinor }: { backMinor: number; offMinor: number; owedMinor: number },
  paidBack: readonly PaidBack[],
  creditNoteNumber: string | null,
  studio: Studio,
): SessionCancelledData['back'] {
  const money = moneyInText(studio);
  const isInParts = offMinor > 0 || paidBack.length > 1;
  return {
    amount: money(backMinor),
    off: offMinor === 0 ? null : { amount: money(offMinor), owed: owedMinor > 0 ? money(owedMinor) : null },
    parts: paidBack.map((part) => paidBackInWords(part, money, isInParts)),
    creditNoteNumber,
  };
}

/** What the letter says where all of it comes off what is owed. */
export const offInWords = ({ backMinor, offMinor, booking }: Back, studio: Studio): SessionCancelledData['back'] =>
  backMinor === 0 ? null : backInWords({ backMinor, offMinor, owedMinor: booking.owedMinor }, [], null, studio);
