import { z } from 'zod';
import { Id, LocalDate } from '../../http/types.js';
import { PlanKind } from '../courses/plan-terms.js';
import { FiringState } from '../firings/contract.js';
import { FiringKind } from '../kilns/contract.js';
import { Closure } from '../settings/closures-contract.js';

/** Two months, whichever they are. */
export const DAYS_MAX = 62;

export const CalendarDaysQuery = z
  .strictObject({
    from: LocalDate.optional().meta({ description: 'The first day; today, if left out.' }),
    to: LocalDate.optional().meta({
      description: `The last day, at most ${DAYS_MAX - 1} days after the first; 30 days after it, if left out.`,
    }),
  })
  .meta({ description: 'Days of the studio.' });
export type CalendarDaysQuery = z.output<typeof CalendarDaysQuery>;

const CalendarSession = z
  .object({
    ...{ id: Id, courseId: Id, title: z.string(), kind: PlanKind },
    ordinal: z.int(),
    of: z.int().meta({ description: 'How many sessions of its course take place.' }),
    ...{ startsAt: z.iso.datetime(), endsAt: z.iso.datetime(), roomName: z.string(), tutors: z.array(z.string()) },
    cancelledBecause: z.string().nullable().meta({ description: 'Null where it takes place.' }),
    places: z.int(),
    placesTaken: z.int().meta({ description: 'Of its course: booked, held, or offered to somebody who waits.' }),
    placesMadeUp: z.int().meta({ description: 'Of its course: so many more are not left, as with the course itself.' }),
  })
  .meta({ id: 'CalendarSession' });

export const CalendarFiring = z
  .object({
    ...{ id: Id, number: z.int(), kilnName: z.string(), kind: FiringKind },
    state: FiringState,
    isLate: z.boolean().meta({ description: 'It should be unloaded by now, and is not: `to` is now.' }),
    from: z.iso.datetime(),
    coolsFrom: z.iso.datetime().meta({
      description: 'When the kiln was switched off; before that, its usual cooling before `to`.',
    }),
    to: z.iso.datetime().meta({ description: 'When it is, or was, cold and unloaded.' }),
  })
  .meta({ id: 'CalendarFiring', description: 'From when to when a firing has its kiln, as far as is known.' });
export type CalendarFiring = z.output<typeof CalendarFiring>;

export const CalendarDays = z
  .object({
    ...{ from: LocalDate, to: LocalDate },
    closures: z.array(Closure).meta({ description: 'Of which one of the days is one.' }),
    sessions: z.array(CalendarSession).meta({ description: 'Those that begin on one of the days, the first first.' }),
    firings: z.array(CalendarFiring).meta({ description: 'Those that have a kiln on one of the days.' }),
  })
  .meta({ id: 'CalendarDays', description: 'What is planned on some days of the studio.' });
export type CalendarDays = z.output<typeof CalendarDays>;
