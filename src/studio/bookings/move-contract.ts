import { z } from 'zod';
import { Id, Minor } from '../../http/types.js';
import { RefundMethod } from '../accounts/contract.js';
import { Booking, Cancellation, Instalment, NewBooking } from './contract.js';

export const NewBookingMove = z
  .strictObject({
    courseId: Id.meta({ description: 'The course that it is moved to.' }),
    concessions: NewBooking.shape.concessions.meta({
      description:
        'Who pays one of the concessions of the new course; if left out, everybody pays one of the same name where there is one.',
    }),
    feeMinor: Minor.optional().meta({
      description: 'What you keep of what was paid, for the change; nothing, if left out. No refund tiers apply.',
    }),
    agesConfirmed: NewBooking.shape.agesConfirmed,
    method: RefundMethod.optional().meta({
      description:
        'How what was paid too much goes back, or that it stays as credit on a voucher; needed where there is some and not all of it goes on the voucher that paid.',
    }),
  })
  .meta({ id: 'NewBookingMove' });
export type NewBookingMove = z.output<typeof NewBookingMove>;

export const BookingMove = z
  .object({
    from: Booking.meta({ description: 'The booking that ended.' }),
    booking: Booking.meta({ description: 'The one on the other course.' }),
    courseTitle: z.string().meta({ description: 'The course that it was moved to.' }),
    priceBeforeMinor: Minor.meta({ description: 'What the places cost that are moved.' }),
    paidMinor: Minor.meta({ description: 'What was paid for them.' }),
    carriedMinor: Minor.meta({ description: 'Of that, what now pays for the new booking.' }),
    keptMinor: Minor.meta({ description: 'Your fee.' }),
    refundMinor: Minor.meta({ description: 'What goes back, or stays as credit: what was paid above the new price.' }),
    onVoucherMinor: Minor.meta({ description: 'Of that, what goes on the voucher that it was paid with.' }),
    creditMinor: Minor.meta({ description: 'Of that, what stays as credit on a new voucher.' }),
    stillDue: z.array(Instalment).meta({ description: 'What is still to pay for the new booking, and by when.' }),
    lostConcessions: z
      .array(z.object({ personId: Id, name: z.string(), concession: z.string() }))
      .meta({ description: 'Who paid a concession that the new course does not have, and pays the full price now.' }),
    next: Cancellation.shape.next,
  })
  .meta({ id: 'BookingMove' });
export type BookingMove = z.output<typeof BookingMove>;
