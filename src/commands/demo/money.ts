import type { Transaction } from '../../database/transaction.js';
import { takePayment } from '../../studio/accounts/payments.js';
import { openCharges } from '../../studio/accounts/queries.js';
import { sellVoucher } from '../../studio/accounts/vouchers.js';
import { book, booking, cancelBooking } from '../../studio/bookings/service.js';
import type { EntryOf } from './diary-entries.js';
import type { Names } from './names.js';
import type { Page } from './page.js';

export async function bookPlaces({ tx, now, names }: Page, entry: EntryOf<'book'>): Promise<void> {
  const attendeeIds = entry.attendees.map((name) => names.id('person', name));
  const payerId = names.id('person', entry.payer);
  await book(tx, now, names.id('course', entry.course), { payerId, attendeeIds });
}

export async function pay({ tx, now, names }: Page, entry: EntryOf<'pay'>): Promise<void> {
  const personId = names.id('person', entry.payer);
  const parts = entry.firing ? await firingParts(tx, personId) : [await coursePart(tx, names, entry, personId)];
  const voucherCode = entry.voucherOf && names.id('voucher', entry.voucherOf);
  await takePayment(tx, now, { personId, method: entry.method, voucherCode, for: parts });
}

/** Sells a voucher; its code comes out alike each time, since its chance is none. */
export async function sell({ tx, now, names }: Page, entry: EntryOf<'voucher'>): Promise<void> {
  const { buyer, amountMinor, method, forWhom } = entry;
  const wanted = { buyerId: names.id('person', buyer), amountMinor, method, taxRateId: null, forWhom };
  let turn = buyer.length;
  const { code } = await sellVoucher(tx, now, wanted, (below) => {
    turn = (turn * 31 + 7) % 10_007;
    return turn % below;
  });
  names.keep('voucher', buyer, { id: code });
}

export async function firingParts(tx: Transaction, personId: string) {
  const open = await openCharges(tx, '9999-12-31', personId);
  return open
    .filter(({ kind }) => kind === 'firing')
    .map(({ chargeId, owedMinor }) => ({ chargeId, amountMinor: owedMinor }));
}

async function coursePart(tx: Transaction, names: Names, entry: EntryOf<'pay'>, personId: string) {
  const booking = await bookingBy(tx, names, entry.course ?? '', personId);
  const { chargeId, depositMinor, owedMinor } = booking;
  return { chargeId, amountMinor: entry.amount === 'deposit' ? depositMinor : owedMinor };
}

async function bookingBy(tx: Transaction, names: Names, course: string, payerId: string) {
  const courseId = names.id('course', course);
  const found = await tx.booking.findFirst({ where: { courseId, payerId, cancelledAt: null }, select: { id: true } });
  if (!found) throw new Error(`The diary knows no booking of that payer for "${course}".`);
  return booking(tx, found.id);
}

export async function cancel({ tx, now, names }: Page, entry: EntryOf<'cancel'>): Promise<void> {
  const { id } = await bookingBy(tx, names, entry.course, names.id('person', entry.payer));
  await cancelBooking(tx, now, id, { reason: entry.because, method: entry.method });
}
