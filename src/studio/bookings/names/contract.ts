import { z } from 'zod';
import { Id, SingleLine } from '../../../http/types.js';
import { Booking, NewBooking } from '../contract.js';

export const NewNameChange = z
  .strictObject({
    personId: Id.meta({ description: 'Who was to come.' }),
    toPersonId: Id.meta({ description: 'Who comes instead.' }),
    agesConfirmed: NewBooking.shape.agesConfirmed,
  })
  .refine(({ personId, toPersonId }) => personId !== toPersonId, {
    path: ['toPersonId'],
    error: 'must be somebody else',
  })
  .meta({ id: 'NewNameChange' });
export type NewNameChange = z.output<typeof NewNameChange>;

export const NameChange = z
  .object({
    booking: Booking,
    concession: z.string().nullable().meta({ description: 'At which the place was booked, and which it keeps.' }),
  })
  .meta({ id: 'NameChange' });
export type NameChange = z.output<typeof NameChange>;

export const NewBookingNote = z
  .strictObject({ note: SingleLine(300).meta({ description: 'For the studio; no letter says it.' }) })
  .meta({ id: 'NewBookingNote' });
export type NewBookingNote = z.output<typeof NewBookingNote>;

export const BookingNote = z
  .object({ id: Id, bookingId: Id, note: z.string(), at: z.iso.datetime(), by: z.string() })
  .meta({ id: 'BookingNote' });
export type BookingNote = z.output<typeof BookingNote>;
