import type { Transaction } from '../../database/transaction.js';
import { takePayment } from '../../studio/accounts/payments.js';
import { openCharges } from '../../studio/accounts/queries.js';
import { complete } from '../../studio/bookings/completion.js';
import { book, bookingsOf, cancelBooking } from '../../studio/bookings/service.js';
import { drawForCourse } from '../../studio/courses/service.js';
import { announceReady } from '../../studio/firings/service.js';
import { NewPieces } from '../../studio/ware/contract.js';
import { noteOnBoard } from '../../studio/ware/notes.js';
import { addLayers, addPieces } from '../../studio/ware/service.js';
import type { Entry, EntryOf } from './diary-entries.js';
import { fire } from './fire.js';
import type { Names } from './names.js';
import type { Page } from './page.js';

/** Lives through one entry of the diary, at its own time, by the same services that the API calls. */
export async function live(page: Page, entry: Entry): Promise<void> {
  switch (entry.did) {
    case 'book':
      return bookPlaces(page, entry);
    case 'pay':
      return pay(page, entry);
    case 'cancel':
      return cancel(page, entry);
    case 'draw':
      return draw(page, entry);
    case 'intake':
      return takeIn(page, entry);
    case 'glaze':
      return glaze(page, entry);
    case 'note':
      await noteOnBoard(page.tx, page.now, page.names.id('board', entry.board), { stage: entry.stage, note: '' });
      return;
    case 'fire':
      return fire(page, entry);
    case 'complete':
      await complete(page.tx, page.now, page.names.id('course', entry.course));
      return;
    case 'announce':
      await announceReady(page.tx, page.now, {});
      return;
  }
}

async function bookPlaces({ tx, now, names }: Page, entry: EntryOf<'book'>): Promise<void> {
  const attendeeIds = entry.attendees.map((name) => names.id('person', name));
  const payerId = names.id('person', entry.payer);
  await book(tx, now, names.id('course', entry.course), { payerId, attendeeIds });
}

async function pay({ tx, now, names }: Page, entry: EntryOf<'pay'>): Promise<void> {
  const personId = names.id('person', entry.payer);
  const parts = entry.firing ? await firingParts(tx, personId) : [await coursePart(tx, names, entry, personId)];
  await takePayment(tx, now, { personId, method: entry.method, for: parts });
}

async function firingParts(tx: Transaction, personId: string) {
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
  const bookings = await bookingsOf(tx, names.id('course', course));
  const found = bookings.find((b) => b.payerId === payerId && b.state !== 'cancelled');
  if (!found) throw new Error(`The diary knows no booking of that payer for "${course}".`);
  return found;
}

async function cancel({ tx, now, names }: Page, entry: EntryOf<'cancel'>): Promise<void> {
  const { id } = await bookingBy(tx, names, entry.course, names.id('person', entry.payer));
  await cancelBooking(tx, now, id, { reason: entry.because, method: entry.method });
}

async function draw({ tx, now, names }: Page, entry: EntryOf<'draw'>): Promise<void> {
  const materialId = names.id('material', entry.material);
  await drawForCourse(tx, now, names.id('course', entry.course), { materialId, quantity: entry.quantity });
}

async function takeIn({ tx, now, names }: Page, entry: EntryOf<'intake'>): Promise<void> {
  const wanted = NewPieces.parse({
    makerId: names.id('person', entry.maker),
    courseId: entry.course && names.id('course', entry.course),
    firingPaidBy: entry.paidBy,
    boardId: names.id('board', entry.board),
    stage: entry.stage,
    ware: entry.ware.map((kind) => ({ clayId: null, ...kind })),
  });
  await addPieces(tx, now, wanted);
}

async function glaze({ tx, now, names }: Page, entry: EntryOf<'glaze'>): Promise<void> {
  const layers = entry.layers.map(({ material, ...layer }) => ({
    ...layer,
    materialId: names.id('material', material),
  }));
  const waiting = await tx.piece.findMany({
    where: { boardId: names.id('board', entry.board), stage: 'bisque', form: { in: entry.forms } },
    orderBy: { serial: 'asc' },
  });
  for (const { id } of waiting) await addLayers(tx, now, id, { layers, note: '' });
}
