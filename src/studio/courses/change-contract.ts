import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { Id, LocalDate, SingleLine, Text } from '../../http/types.js';
import { MoneyMethod } from '../accounts/contract.js';
import { Ids, NewCourse, OnClosedDay, PRICE_MINOR_MAX, Purpose } from './contract.js';

const { title, places, minimum } = NewCourse.shape;

const isIn2000s = (day: string) => '2000-01-01' <= day && day < '2100-01-01';

export const CourseParticulars = z
  .strictObject({
    ...{ title, places, minimum },
    decideOn: LocalDate.refine(isIn2000s, 'must be between 2000 and 2099')
      .nullable()
      .meta({ description: 'Until when it is decided whether it takes place; null: a week before it begins.' }),
    note: Text(1000)
      .refine((text) => text.trim() !== '', 'must say something, or be null')
      .nullable()
      .meta({ description: 'What students should know, as letters say it.' }),
  })
  .refine((course) => course.minimum <= course.places, { path: ['minimum'], error: 'must be at most the places' })
  .meta({ id: 'CourseParticulars', description: 'What can be changed of a course that is in the calendar.' });
export type CourseParticulars = z.output<typeof CourseParticulars>;

const ClockTime = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'must be a time such as "19:00"');

export const NewSessionMove = z
  .strictObject({
    day: LocalDate.refine(isIn2000s, 'must be between 2000 and 2099'),
    from: ClockTime.meta({ description: "By the studio's clock." }),
    until: ClockTime,
    roomId: Id,
    tutorIds: Ids(10),
    onClosedDay: OnClosedDay,
    reason: PrintedLine(200).optional().meta({ description: 'Why, as the letter says it.' }),
  })
  .meta({ id: 'NewSessionMove', description: 'When and where a session is now, and with whom.' });
export type NewSessionMove = z.output<typeof NewSessionMove>;

export const NewSessionAdded = NewSessionMove.omit({ reason: true })
  .extend({
    purpose: Purpose,
    note: PrintedLine(200).optional().meta({ description: 'What students should know of it, as the letter says it.' }),
  })
  .meta({ id: 'NewSessionAdded', description: 'When and where one more session is, and with whom.' });
export type NewSessionAdded = z.output<typeof NewSessionAdded>;

export const NewRemainingSessions = NewSessionMove.pick({ roomId: true, tutorIds: true }).meta({
  id: 'NewRemainingSessions',
  description: 'Where all sessions are that have not begun, and with whom.',
});
export type NewRemainingSessions = z.output<typeof NewRemainingSessions>;

export const NewSessionCancellation = z
  .strictObject({
    reason: PrintedLine(200).meta({ description: 'Why, as the letter says it.' }),
    backMinor: z.int().min(0).max(PRICE_MINOR_MAX).default(0).meta({
      description:
        'What is given back for each place at the full price, and in proportion for a concession; for the group in a private session.',
    }),
    method: MoneyMethod.optional().meta({
      description: 'How it is paid back where nothing is owed; to each as they paid last, if left out.',
    }),
  })
  .meta({ id: 'NewSessionCancellation' });
export type NewSessionCancellation = z.output<typeof NewSessionCancellation>;

export const CourseChange = z
  .object({ id: Id, at: z.iso.datetime(), madeBy: z.string(), what: z.string() })
  .meta({ id: 'CourseChange' });
export type CourseChange = z.output<typeof CourseChange>;

export const NewExtraPlace = z
  .strictObject({ reason: SingleLine(200).meta({ description: 'Why, for the history of the course.' }) })
  .meta({ id: 'NewExtraPlace' });
export type NewExtraPlace = z.output<typeof NewExtraPlace>;
