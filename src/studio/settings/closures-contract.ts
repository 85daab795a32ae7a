import { z } from 'zod';
import { Id, LocalDate, SingleLine } from '../../http/types.js';
import { daysBetween } from '../../trade/calendar/calendar.js';

const DAYS_MAX = 366;

const Day = LocalDate.refine((day) => '2000-01-01' <= day && day < '2100-01-01', 'must be between 2000 and 2099');

export const NewClosure = z
  .strictObject({
    name: SingleLine(80).meta({ description: 'Why, as staff read it: "half-term".' }),
    from: Day,
    to: Day.meta({ description: `The last day, which is closed too; at most ${DAYS_MAX} days in all.` }),
  })
  .refine(({ from, to }) => from <= to, { path: ['to'], error: 'must not be before the first day' })
  .refine(({ from, to }) => daysBetween(from, to) < DAYS_MAX, {
    path: ['to'],
    error: `must be at most ${DAYS_MAX - 1} days after the first`,
  })
  .meta({ id: 'NewClosure' });
export type NewClosure = z.output<typeof NewClosure>;

export const Closure = z
  .object({ id: Id, ...NewClosure.shape })
  .meta({ id: 'Closure', description: 'Days on which the studio is closed.' });
export type Closure = z.output<typeof Closure>;
