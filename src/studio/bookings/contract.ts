import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { Days, ListQuery } from '../../http/paging.js';
import { Id, LocalDate, Minor } from '../../http/types.js';
import { MoneyMethod, Reversal } from '../accounts/contract.js';
import { Ids, Moment, Session } from '../courses/contract.js';
import { Guardian } from '../people/contract.js';
import { Consent } from './consents/contract.js';
import { MakeUp } from './make-ups/contract.js';

export const NewBooking = z
  .strictObject({
    payerId: Id,
    attendeeIds: Ids(20).min(1).meta({ description: 'Who comes, one place each; the payer may be one of them.' }),
    unnamed: z.int().min(0).max(19).optional().meta({
      description: 'How many more of the group of a private session come, who have no name yet.',
    }),
    concessions: z
      .array(z.strictObject({ attendeeId: Id, concessionId: Id }))
      .max(20)
      .refine((list) => new Set(list.map((c) => c.attendeeId)).size === list.length, 'must not name anybody twice')
      .optional()
      .meta({ description: "Who pays one of the course's concessions; everybody else pays the full price." }),
    outsideWindow: z.boolean().optional().meta({
      description: 'Book though booking is not open yet, or is closed.',
    }),
    agesConfirmed: z.boolean().optional().meta({
      description:
        'Somebody said that everyone who comes is of the age that the course is for; only that is kept, and no date of birth.',
    }),
  })
  .refine(
    ({ attendeeIds, concessions = [] }) => {
      const come = new Set(attendeeIds);
      return concessions.every(({ attendeeId }) => come.has(attendeeId));
    },
    { path: ['concessions'], error: 'must name only people who come' },
  )
  .meta({ id: 'NewBooking' });
export type NewBooking = z.output<typeof NewBooking>;

export const Instalment = z
  .object({ dueOn: LocalDate, amountMinor: Minor })
  .meta({ id: 'Instalment', description: 'A part of a price, and the day by which it is asked for.' });

const BookingVat = z
  .object({
    label: z
      .string()
      .nullable()
      .meta({ description: 'What it is for, where the price has parts that are taxed differently; else null.' }),
    taxName: z.string(),
    grossMinor: Minor,
    vatPercent: z.string().nullable().meta({ description: 'None where there is no VAT on it.' }),
    vatMinor: Minor,
  })
  .meta({ id: 'BookingVat' });

const Attendee = z.object({ personId: Id, name: z.string() });

const CancelledPlace = Attendee.extend({
  cancelledAt: z.iso.datetime(),
  because: z.string(),
  refundMinor: Minor,
  keptMinor: Minor.meta({ description: 'Of what was paid for it, what was not refunded then.' }),
}).meta({ id: 'CancelledPlace' });

export const Booking = z
  .object({
    id: Id,
    courseId: Id,
    payerId: Id,
    payerName: z.string(),
    attendees: z.array(
      Attendee.extend({
        concession: z.string().nullable().meta({ description: 'Its label.' }),
        lacksGuardian: z.boolean().meta({ description: 'A child of whom nobody is noted who answers for them.' }),
      }),
    ),
    unnamed: z.int().meta({ description: 'So many more of a group come, who have no name yet.' }),
    state: z
      .enum(['provisional', 'confirmed', 'cancelled'])
      .meta({ description: 'Confirmed once the deposit is paid, or at once where there is none.' }),
    heldUntil: z.iso.datetime().nullable().meta({ description: 'While provisional: by when the deposit is due.' }),
    bookedAt: z.iso.datetime(),
    cancelledAt: z.iso.datetime().nullable(),
    cancelledBecause: z.string().nullable(),
    movedToId: Id.nullable().meta({
      description: 'The booking on another course that it was moved to; it counts as cancelled then.',
    }),
    chargeId: Id,
    priceMinor: Minor.meta({ description: 'For all its places, before what memberships include of it.' }),
    includedMinor: Minor.meta({ description: 'Of the price, what memberships include; it is credited.' }),
    vat: z.array(BookingVat).meta({ description: 'The price by what it is taxed, as it was when it was booked.' }),
    depositMinor: Minor,
    instalments: z.array(Instalment).meta({
      description: 'How the price was asked for when it was booked; what is paid settles the earlier ones first.',
    }),
    paidMinor: Minor.meta({ description: 'Less what was refunded.' }),
    owedMinor: Minor,
    cancelledPlaces: z.array(CancelledPlace).meta({
      description: 'Places that were cancelled while others of the booking stayed, in that order.',
    }),
    refundDueMinor: Minor.meta({
      description: 'To be refunded since places that it gave up are filled again: POST its further-refund.',
    }),
  })
  .meta({ id: 'Booking' });
export type Booking = z.output<typeof Booking>;

export const BookingQuery = ListQuery.extend({
  q: ListQuery.shape.q.meta({ description: 'Words of the payer, of those who come, or of the course.' }),
  ...Days,
  courseId: Id.optional(),
  personId: Id.optional().meta({ description: 'Who pays or comes.' }),
  state: Booking.shape.state.optional(),
}).meta({ description: 'From and to are of the day on which it was booked.' });
export type BookingQuery = z.output<typeof BookingQuery>;

export const ListedBooking = Booking.extend({
  courseTitle: z.string(),
  courseStartsAt: z.iso.datetime().meta({ description: 'When the first session of the course begins.' }),
}).meta({ id: 'ListedBooking' });
export type ListedBooking = z.output<typeof ListedBooking>;

export const NewCancellation = z
  .strictObject({
    reason: PrintedLine(200),
    attendeeIds: Ids(20).min(1).optional().meta({
      description: 'Whose places are cancelled; all, if left out. Those of the others stay booked.',
    }),
    method: MoneyMethod.optional().meta({
      description: 'How a refund is paid; needed where there is one and not all of it goes on a voucher.',
    }),
    asOf: LocalDate.optional().meta({ description: 'The day on which notice was given; today, if left out.' }),
    refundMinor: Minor.optional().meta({
      description: "The owner's own decision, for illness or after the start; by the refund policy, if left out.",
    }),
  })
  .refine(({ asOf, refundMinor }) => asOf === undefined || refundMinor === undefined, {
    path: ['asOf'],
    error: 'counts for nothing where you decide the refund yourself: leave one of the two out',
  })
  .meta({ id: 'NewCancellation' });
export type NewCancellation = z.output<typeof NewCancellation>;

export const Cancellation = z
  .object({
    booking: Booking,
    refundMinor: Minor,
    onVoucherMinor: Minor.meta({ description: 'Of the refund, what goes on the voucher that it was paid with.' }),
    keptMinor: Minor,
    furtherMinor: Minor.meta({
      description:
        'Of what is kept, what is refunded once all its places are filled again, or where the course is full when it begins.',
    }),
    because: z.string(),
    places: z
      .array(
        Attendee.extend({
          priceMinor: Minor,
          paidMinor: Minor.meta({
            description: 'Its part of what was paid for the booking, which is shared between places by their prices.',
          }),
          refundMinor: Minor,
          keptMinor: Minor,
        }),
      )
      .meta({
        description:
          'What becomes of each place that is cancelled; none where a private session is cancelled as a whole, which has one price.',
      }),
    next: z.object({ entryId: Id, personId: Id, name: z.string(), places: z.int() }).nullable().meta({
      description: 'Who is next on the waiting list for the places that are then left; POST an offer to them.',
    }),
  })
  .meta({ id: 'Cancellation' });
export type Cancellation = z.output<typeof Cancellation>;

export const NewFurtherRefund = z
  .strictObject({ method: NewCancellation.shape.method })
  .meta({ id: 'NewFurtherRefund' });
export type NewFurtherRefund = z.output<typeof NewFurtherRefund>;

export const FurtherRefund = z
  .object({ booking: Booking, refundMinor: Minor, onVoucherMinor: Cancellation.shape.onVoucherMinor })
  .meta({ id: 'FurtherRefund' });
export type FurtherRefund = z.output<typeof FurtherRefund>;

export const RefundDue = z
  .object({
    ...{ bookingId: Id, personId: Id, personName: z.string(), what: z.string(), amountMinor: Minor },
    since: LocalDate.meta({ description: 'The day on which the first of its places was filled again.' }),
  })
  .meta({ id: 'RefundDue', description: 'What is to be refunded since a place that was given up is filled again.' });
export type RefundDue = z.output<typeof RefundDue>;

export const NewAttendance = z
  .strictObject({
    personId: Id,
    came: z.boolean().nullable().meta({ description: 'Null takes back what was noted before.' }),
    notedAt: Moment.optional().meta({
      description: 'When it was noted, where it is sent later for want of a connection; now, if left out.',
    }),
  })
  .meta({ id: 'NewAttendance' });
export type NewAttendance = z.output<typeof NewAttendance>;

export const Attendance = z
  .object({
    ...{ sessionId: Id, personId: Id, came: z.boolean().nullable() },
    notedAt: z.iso.datetime(),
    notedBy: z.string(),
  })
  .meta({ id: 'Attendance', description: 'What was noted last of somebody at a session.' });
export type Attendance = z.output<typeof Attendance>;

const Child = z
  .object({
    personId: Id,
    guardians: z.array(Guardian).meta({ description: 'Whom to ring, in that order.' }),
    consent: Consent.nullable().meta({
      description: 'Of a guardian, for this course or for all; null: none is noted.',
    }),
  })
  .meta({ id: 'ChildOnRegister' });

export const Register = z
  .object({
    courseId: Id,
    title: z.string(),
    sessions: z.array(Session),
    people: z.array(Attendee.extend({ bookingId: Id, bookedBy: z.string() })),
    groups: z
      .array(z.object({ bookingId: Id, bookedBy: z.string(), unnamed: z.int() }))
      .meta({ description: 'Groups of which some come who have no name yet.' }),
    children: z.array(Child).meta({ description: 'Who of all these is a child.' }),
    makeUps: z.array(MakeUp).meta({
      description: 'Who makes up a session of this course elsewhere, and who comes to one of its sessions for another.',
    }),
    attendance: z.array(Attendance).meta({ description: 'Who came to which session; nobody whose was taken back.' }),
    hazards: z.array(z.string()).meta({ description: 'What the materials of the course warn of.' }),
  })
  .meta({ id: 'Register', description: 'Who is coming, without money.' });
export type Register = z.output<typeof Register>;

export const Completion = z
  .object({
    courseId: Id,
    completedOn: LocalDate,
    supplied: z.int().meta({ description: 'Bookings that were supplied.' }),
  })
  .meta({ id: 'Completion' });
export type Completion = z.output<typeof Completion>;

export const PaymentReversal = Reversal.extend({
  bookings: z
    .array(z.object({ bookingId: Id, courseTitle: z.string(), state: Booking.shape.state, said: z.string() }))
    .meta({ description: 'What became of the places that the payment had paid for.' }),
}).meta({ id: 'PaymentReversal' });
export type PaymentReversal = z.output<typeof PaymentReversal>;
