import type { Transaction } from '../../database/transaction.js';
import { getChargeStates, listOpenCharges } from '../../studio/accounts/queries.js';
import { sellVoucher } from '../../studio/accounts/vouchers/vouchers.js';
import { bookPlaces, cancelBooking, payForBookings } from '../../studio/bookings/service.js';
import { getCourse } from '../../studio/courses/service.js';
import type { DemoContext } from './context.js';
import type { DemoEventOf } from './event-log.js';
import type { IdRegistry } from './id-registry.js';

export async function bookDemoPlaces({ tx, now, names }: DemoContext, entry: DemoEventOf<'book'>): Promise<void> {
  const attendeeIds = entry.attendees.map((name) => names.id('person', name));
  const payerId = names.id('person', entry.payer);
  const courseId = names.id('course', entry.course);
  const concessions = entry.concession === undefined ? [] : await allAt(tx, courseId, entry.concession, attendeeIds);
  const made = await bookPlaces(tx, now, courseId, { payerId, attendeeIds, concessions });
  names.keep('booking', bookingOf(entry.course, entry.payer), made);
}

/** All of them at the course's concession of this label. */
async function allAt(tx: Transaction, courseId: string, called: string, attendeeIds: readonly string[]) {
  const found = (await getCourse(tx, courseId)).concessions.find(({ label }) => label === called);
  if (!found) throw new Error(`The seeds name a concession "${called}" that this course does not have.`);
  return attendeeIds.map((attendeeId) => ({ attendeeId, concessionId: found.id }));
}

export async function pay({ tx, now, names }: DemoContext, entry: DemoEventOf<'pay'>): Promise<void> {
  const personId = names.id('person', entry.payer);
  const parts = entry.firing ? await firingParts(tx, personId) : [await coursePart(tx, names, entry)];
  const voucherCode = entry.voucherOf && names.id('voucher', entry.voucherOf);
  await payForBookings(tx, now, { personId, method: entry.method, voucherCode, for: parts });
}

/** Sells a voucher; its code comes out alike each time, since its chance is none. */
export async function sellDemoVoucher({ tx, now, names }: DemoContext, entry: DemoEventOf<'voucher'>): Promise<void> {
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
  const open = await listOpenCharges(tx, '9999-12-31', personId);
  return open
    .filter(({ kind }) => kind === 'firing')
    .map(({ chargeId, owedMinor }) => ({ chargeId, amountMinor: owedMinor }));
}

async function coursePart(tx: Transaction, names: IdRegistry, { course = '', payer, amount }: DemoEventOf<'pay'>) {
  const { chargeId, depositMinor } = await tx.booking.findUniqueOrThrow({
    where: { id: names.id('booking', bookingOf(course, payer)) },
    select: { chargeId: true, depositMinor: true },
  });
  if (amount === 'deposit') return { chargeId, amountMinor: depositMinor };
  return { chargeId, amountMinor: (await getChargeStates(tx, [chargeId])).get(chargeId)?.owedMinor ?? 0 };
}

/** A payer books a course once in these seeds. */
const bookingOf = (course: string, payer: string) => `${course}, ${payer}`;

export async function cancel({ tx, now, names }: DemoContext, entry: DemoEventOf<'cancel'>): Promise<void> {
  const id = names.id('booking', bookingOf(entry.course, entry.payer));
  await cancelBooking(tx, now, id, { reason: entry.because, method: entry.method });
}
