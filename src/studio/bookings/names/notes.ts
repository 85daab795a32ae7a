import type { Transaction } from '../../../database/transaction.js';
import { newId } from '../../../http/ids.js';
import type { Member } from '../../courses/changes.js';
import { getCourse } from '../../courses/service.js';
import { getBooking } from '../read-bookings.js';
import type { BookingNote, NewBookingNote } from './contract.js';

const WHOLE = { madeBy: { select: { name: true } } } as const;
type Row = { id: string; bookingId: string; note: string; at: Date; madeBy: { name: string } };
const show = ({ at, madeBy, id, bookingId, note }: Row): BookingNote => ({
  ...{ id, bookingId, note, at: at.toISOString(), by: madeBy.name },
});

/** Notes something of a booking for the studio. */
export async function addNote(
  tx: Transaction,
  now: Date,
  { staffMemberId: madeById }: Member,
  bookingId: string,
  { note }: NewBookingNote,
): Promise<BookingNote> {
  await getBooking(tx, bookingId);
  return show(
    await tx.bookingNote.create({ data: { id: newId(), bookingId, note, at: now, madeById }, include: WHOLE }),
  );
}

/** What was noted of the bookings of a course, the first note first. */
export async function listNotes(tx: Transaction, courseId: string): Promise<BookingNote[]> {
  await getCourse(tx, courseId);
  const rows = await tx.bookingNote.findMany({
    where: { booking: { courseId } },
    include: WHOLE,
    orderBy: { id: 'asc' },
  });
  return rows.map(show);
}
