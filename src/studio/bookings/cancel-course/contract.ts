import { z } from 'zod';
import { PrintedLine } from '../../../documents/printable.js';
import { Id, Minor } from '../../../http/types.js';
import { MoneyMethod } from '../../accounts/contract.js';
import { CancellationCause, CourseDates } from '../../courses/contract.js';
import { Booking } from '../contract.js';

export const NewCourseCancellation = z
  .strictObject({
    reason: PrintedLine(200).meta({ description: 'Why, as the letters and credit notes say it.' }),
    cause: CancellationCause,
    method: MoneyMethod.optional().meta({
      description: 'How money goes back; to each as they paid last, if left out. What a voucher paid goes back on one.',
    }),
  })
  .meta({ id: 'NewCourseCancellation' });
export type NewCourseCancellation = z.output<typeof NewCourseCancellation>;

const CancelledBooking = Booking.pick({ payerId: true, payerName: true, state: true, paidMinor: true }).extend({
  bookingId: Id,
  attendees: z.array(z.string()),
  unpaidMinor: Minor.meta({ description: 'What is no longer asked for.' }),
  refundMinor: Minor,
  onVoucherMinor: Minor.meta({ description: 'Of the refund, what goes on the voucher that it was paid with.' }),
  method: MoneyMethod.nullable().meta({ description: 'How the rest of the refund goes back.' }),
  keptMinor: Minor.meta({ description: 'Kept of places that were cancelled before, which stays so.' }),
});
export type CancelledBooking = z.output<typeof CancelledBooking>;

export const CourseCancellation = z
  .object({
    course: CourseDates,
    bookings: z.array(CancelledBooking).meta({ description: 'As they were before, in the order in which they came.' }),
    waiting: z.array(
      z.object({ entryId: Id, personId: Id, name: z.string(), places: z.int(), wasOffered: z.boolean() }),
    ),
    alsoTold: z.array(z.object({ personId: Id, name: z.string() })).meta({
      description: 'Who comes on a booking that somebody else pays, and has an email address of their own.',
    }),
    freed: z.object({
      sessions: z.array(
        z.object({ sessionId: Id, when: z.string(), roomName: z.string(), tutors: z.array(z.string()) }),
      ),
      materials: z.array(z.string()).meta({ description: 'No longer set aside for this course.' }),
    }),
    totals: z.object({
      people: z.int().meta({ description: 'Who had a place.' }),
      unpaidMinor: Minor,
      refundMinor: Minor,
      onVoucherMinor: Minor,
      keptMinor: Minor,
    }),
  })
  .meta({ id: 'CourseCancellation' });
export type CourseCancellation = z.output<typeof CourseCancellation>;
