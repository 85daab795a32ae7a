import { z } from 'zod';
import { Id, LocalDate } from '../../http/types.js';
import { PlanKind } from '../courses/plan-terms.js';
import { Selling } from '../courses/selling.js';

const Expected = z
  .object({
    mean: z.string().meta({ description: 'Places in the end, on average, to a tenth.' }),
    low: z.int().meta({ description: 'At most 1 chance in 10 that fewer are booked in the end.' }),
    high: z.int().meta({ description: 'At most 1 chance in 10 that more are.' }),
    minimumChance: z
      .string()
      .meta({ description: 'Of the minimum being booked by the day of decision, 0 to 1, to a hundredth.' }),
    minimumOn: LocalDate.nullable().meta({
      description:
        'The first day by which it is as likely as not; null: not before it is decided, or it is booked already.',
    }),
    isAssumption: z
      .boolean()
      .meta({ description: 'Whether the studio’s setting counts for more than its past courses.' }),
    detail: z.string(),
  })
  .meta({
    id: 'ExpectedEnrolment',
    description:
      'By how many book such courses as a rule, as the price has it, how many have booked this one, and how early people book.',
  });

export const CourseEnrolment = z
  .object({
    ...{ courseId: Id, planId: Id, kind: PlanKind, title: z.string(), startsAt: z.iso.datetime() },
    places: z.int(),
    minimum: z.int(),
    confirmed: z.int().meta({ description: 'Places whose deposit is paid, or that ask none.' }),
    held: z.int().meta({ description: 'Places that wait for their deposit.' }),
    offered: z.int().meta({ description: 'Places kept for somebody on the waiting list.' }),
    left: z.int(),
    waiting: z.int().meta({ description: 'Places that those who wait, and were offered none, ask for.' }),
    ...{ bookableFrom: Selling.bookableFrom, bookableUntil: Selling.bookableUntil },
    decideOn: LocalDate.nullable().meta({
      description: 'Until when it is decided whether it takes place; null: it takes place anyway.',
    }),
    decideOnIsSet: z
      .boolean()
      .meta({ description: 'Whether the owner gave that day; else it is a week before the course begins.' }),
    expected: Expected.nullable().meta({ description: 'Null for a private session, which one group books or nobody.' }),
  })
  .meta({ id: 'CourseEnrolment' });
export type CourseEnrolment = z.output<typeof CourseEnrolment>;

const Reached = { personId: Id, name: z.string(), phone: z.string().nullable(), email: z.string().nullable() };

const EndingHold = z
  .object({
    ...{ bookingId: Id, courseId: Id, title: z.string(), ...Reached },
    places: z.int(),
    heldUntil: z.iso.datetime(),
  })
  .meta({ id: 'EndingHold', description: 'A booking whose place is freed soon unless its deposit is paid.' });

const CallReason = z.enum(['holdEnded', 'waitsElsewhere']);

const PersonToRing = z
  .object({
    ...{ courseId: Id, title: z.string(), ...Reached },
    because: CallReason.meta({
      description: 'Their hold of a place of this course ran out, or they wait for another course of the same plan.',
    }),
    places: z.int(),
    since: z.iso.datetime(),
  })
  .meta({
    id: 'PersonToRing',
    description: 'Somebody who wanted such a place and may take one of those that are left.',
  });

export const EnrolmentOutlook = z
  .object({
    today: LocalDate,
    courses: z.array(CourseEnrolment),
    holds: z.array(EndingHold).meta({ description: 'Those that run out within a week, the first first.' }),
    calls: z
      .array(PersonToRing)
      .meta({ description: 'For courses that have places left, the course that begins first, first.' }),
  })
  .meta({ id: 'EnrolmentOutlook', description: 'What is filling and what is not.' });
export type EnrolmentOutlook = z.output<typeof EnrolmentOutlook>;
