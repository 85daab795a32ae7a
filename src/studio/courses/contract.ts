import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { Days, ListQuery } from '../../http/paging.js';
import { Id, Instant, LocalDate, Minor } from '../../http/types.js';
import { PURPOSES } from '../../trade/calendar/production-lead-time.js';
import { BalanceEveryDays, BalancePayments, PaymentsAt, PlanKind } from './plan-terms.js';
import { LaterPrice, Selling } from './selling.js';

/** Ids, none of them twice. */
export const Ids = (max: number) =>
  z
    .array(Id)
    .max(max)
    .refine((ids) => new Set(ids).size === ids.length, 'must not name anything twice');

export const Purpose = z.enum(PURPOSES).meta({ description: 'What a session is for.' });

export const PLACES_MAX = 200;
export const Places = z.int().min(1).max(PLACES_MAX);
/** 100,000 in pounds or euros: twenty places at it still fit into the books. */
export const PRICE_MINOR_MAX = 10_000_000;
const SESSION_MINUTES_MAX = 720;
const FROM = Date.parse('2000-01-01T00:00:00Z');
const TO = Date.parse('2100-01-01T00:00:00Z');

export const Moment = Instant.refine(
  (at) => FROM <= Date.parse(at) && Date.parse(at) < TO,
  'must be between 2000 and 2099',
);

const NewConcession = z
  .strictObject({
    label: PrintedLine(60),
    priceMinor: z.int().min(1).max(PRICE_MINOR_MAX).meta({ description: 'Gross, for one place.' }),
    atMost: Places.nullable().optional().meta({ description: 'Places; as many as there are, if left out.' }),
    payments: PaymentsAt.nullable().optional(),
  })
  .meta({ id: 'NewCourseConcession' });

/** The named act by which a session is put on a closed day. */
export const OnClosedDay = z.boolean().optional().meta({
  description: 'Whether it takes place though the studio is closed that day.',
});

export const NewSession = z
  .strictObject({
    startsAt: Moment,
    endsAt: Moment,
    roomId: Id,
    benches: Places.optional().meta({
      description: 'Benches taken in the room; as many as there are places, if left out.',
    }),
    tutorIds: Ids(10).default([]),
    onClosedDay: OnClosedDay,
  })
  .refine(({ startsAt, endsAt }) => Date.parse(startsAt) < Date.parse(endsAt), {
    path: ['endsAt'],
    error: 'must come after the beginning',
  })
  .refine(({ startsAt, endsAt }) => Date.parse(endsAt) - Date.parse(startsAt) <= SESSION_MINUTES_MAX * 60_000, {
    path: ['endsAt'],
    error: 'must come at most 12 hours after the beginning',
  });

export const NewCourse = z
  .strictObject({
    planId: Id,
    title: PrintedLine(120),
    places: Places,
    minimum: z
      .int()
      .min(0)
      .max(PLACES_MAX)
      .meta({ description: 'With fewer the course does not run; 0 for open studio.' }),
    priceMinor: z
      .int()
      .min(1)
      .max(PRICE_MINOR_MAX)
      .meta({ description: 'Gross, for one place; for the whole group in a private session.' }),
    perHeadAboveMinor: z
      .int()
      .min(0)
      .max(PRICE_MINOR_MAX)
      .optional()
      .meta({ description: "In a private session: gross, for each person above the plan's group." }),
    concessions: z
      .array(NewConcession)
      .max(10)
      .refine((list) => new Set(list.map(({ label }) => label)).size === list.length, 'must not have a label twice')
      .optional()
      .meta({ description: "What places cost below the full price; by the plan's rule, if left out." }),
    depositMinor: Minor.meta({
      description: 'For one place, or for the whole group; 0 where a booking is confirmed without one.',
    }),
    holdHours: z.int().min(1).max(720).meta({ description: 'How long a place waits for its deposit.' }),
    balanceDueDays: z
      .int()
      .min(0)
      .max(365)
      .meta({ description: 'Days before the first session on which the balance, or the last of it, is due.' }),
    balancePayments: BalancePayments.optional().meta({
      description: 'In so many payments the balance is asked for; as the plan says, if left out.',
    }),
    balanceEveryDays: BalanceEveryDays.optional().meta({
      description: 'Days from one payment of the balance to the next; as the plan says, if left out.',
    }),
    taxRateId: Id,
    refundPolicyId: Id,
    sessions: z
      .array(NewSession)
      .min(1)
      .max(60)
      .meta({ description: "In the order of the plan's, each at or after the end of the one before." }),
  })
  .refine(({ minimum, places }) => minimum <= places, { path: ['minimum'], error: 'must be at most the places' })
  .refine(({ depositMinor, priceMinor }) => depositMinor <= priceMinor, {
    path: ['depositMinor'],
    error: 'must be at most the price',
  })
  .superRefine(({ sessions, places, concessions = [], priceMinor }, context) => {
    for (const [i, concession] of concessions.entries())
      if (concession.priceMinor > priceMinor)
        context.addIssue({
          code: 'custom',
          path: ['concessions', i, 'priceMinor'],
          message: 'must be at most the full price',
        });
    for (const [i, { startsAt, benches }] of sessions.entries()) {
      const before = sessions[i - 1];
      if (before && Date.parse(startsAt) < Date.parse(before.endsAt))
        context.addIssue({
          code: 'custom',
          path: ['sessions', i, 'startsAt'],
          message: 'must come at or after the end of the session before it',
        });
      if (benches !== undefined && benches > places)
        context.addIssue({ code: 'custom', path: ['sessions', i, 'benches'], message: 'must be at most the places' });
    }
  })
  .meta({ id: 'NewCourse' });
export type NewCourse = z.output<typeof NewCourse>;

export const Session = z
  .object({
    id: Id,
    ordinal: z.int(),
    purpose: Purpose,
    startsAt: z.iso.datetime(),
    endsAt: z.iso.datetime(),
    roomId: Id,
    roomName: z.string(),
    benches: z.int(),
    tutors: z.array(z.object({ id: Id, name: z.string() })),
    cancelledBecause: z.string().nullable().meta({ description: 'Null where it takes place.' }),
    isAdded: z.boolean().meta({ description: 'Whether it is one more than its plan has.' }),
  })
  .meta({ id: 'Session' });
export type Session = z.output<typeof Session>;

/** What a price may learn from a course that was cancelled. */
export const CancellationCause = z
  .enum(['tooFew', 'other'])
  .meta({ id: 'CancellationCause', description: 'Too few had booked, or something else, such as illness.' });
export type CancellationCause = z.output<typeof CancellationCause>;

export const CourseDates = z
  .object({
    id: Id,
    planId: Id,
    kind: PlanKind,
    title: z.string(),
    places: z.int(),
    minimum: z.int(),
    decideOn: LocalDate.nullable().meta({
      description: 'Until when it is decided whether it takes place, where the owner gave a day.',
    }),
    note: z.string().nullable().meta({ description: 'What students should know, as letters say it.' }),
    ...Selling,
    completedOn: LocalDate.nullable(),
    cancelled: z
      .object({ at: z.iso.datetime(), cause: CancellationCause, because: z.string() })
      .nullable()
      .meta({ description: 'When the course was cancelled as a whole, and why; null where it was not.' }),
    sessions: z.array(Session).meta({
      description: 'Those that take place, in their order; of a course that was cancelled, those that were to.',
    }),
    cancelledSessions: z.array(Session).meta({ description: 'Those of a course that goes on that do not take place.' }),
  })
  .meta({ id: 'CourseDates', description: 'A course as a tutor may see it: without money.' });
export type CourseDates = z.output<typeof CourseDates>;

const COURSE_STATES = ['coming', 'running', 'over', 'completed', 'cancelled'] as const;
export const CourseQuery = ListQuery.extend({
  q: ListQuery.shape.q.meta({ description: 'Words of the title or of the plan’s name.' }),
  ...Days,
  planId: Id.optional(),
  state: z.enum(COURSE_STATES).optional().meta({
    description: 'Over: its last session has ended, and nobody has completed it yet.',
  }),
  is: z.enum(['ahead', 'past', 'begun']).optional().meta({
    description:
      'Ahead: coming or running. Past: completed or cancelled, or its last session has ended. Begun: its first session has, and it was not cancelled.',
  }),
  order: z.enum(['oldest', 'firstDay', 'firstDayLast', 'nextDay', 'nextDayLast']).default('oldest').meta({
    description:
      'As they were entered; by the first session that takes place, the earliest first or the latest; or by the next one to come, and where none is, by the first.',
  }),
}).meta({ description: 'From and to pick the courses that have a session on one of those days.' });
export type CourseQuery = z.output<typeof CourseQuery>;

export const ListedCourse = CourseDates.extend({
  planName: z.string(),
  state: z.enum(COURSE_STATES),
  nextStartsAt: z.iso.datetime().nullable().meta({
    description: 'When its next session begins, or the one that goes on began; null where none is to come.',
  }),
  placesTaken: z.int().meta({
    description: 'Booked, held, or offered to somebody who waits; a hold that ran out counts until it is released.',
  }),
  placesMadeUp: z.int().meta({
    description:
      'How many make up a session of another course in the session that most do: of the places, so many more are not left.',
  }),
}).meta({ id: 'ListedCourse' });
export type ListedCourse = z.output<typeof ListedCourse>;

const Concession = z
  .object({
    ...{ id: Id, label: z.string(), priceMinor: Minor, atMost: z.int().nullable() },
    payments: z.int().nullable().meta({ description: 'Null: the usual terms.' }),
  })
  .meta({ id: 'CourseConcession' });

export const Course = z
  .object({
    ...CourseDates.shape,
    priceMinor: Minor.meta({ description: 'What is asked for today, gross.' }),
    laterPrice: LaterPrice.nullable(),
    groupOf: z.int().nullable().meta({ description: 'How many people the price of a private session includes.' }),
    perHeadAboveMinor: Minor.nullable(),
    concessions: z.array(Concession),
    depositMinor: Minor,
    holdHours: z.int(),
    balanceDueDays: z.int(),
    balancePayments: z.int(),
    balanceEveryDays: z.int(),
    taxRateId: Id,
    refundPolicyId: Id,
  })
  .meta({ id: 'Course' });
export type Course = z.output<typeof Course>;
