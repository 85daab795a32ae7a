import { z } from 'zod';
import { Id, LocalDate, SingleLine } from '../../http/types.js';

const WORK = ['teaching', 'preparing', 'clearing', 'kiln', 'messages', 'other'] as const;
const WorkKind = z.enum(WORK).meta({ description: 'What the time went into.' });
export type WorkKind = z.output<typeof WorkKind>;

const MINUTES_MAX = 60_000;

export const NewHours = z
  .strictObject({
    minutes: z
      .int()
      .min(-MINUTES_MAX)
      .max(MINUTES_MAX)
      .refine((minutes) => minutes !== 0, 'must not be 0')
      .meta({ description: 'Below zero: a correction of what was noted before.' }),
    what: WorkKind,
    on: LocalDate,
    staffMemberId: Id.optional().meta({ description: 'Who worked; the owner, if left out.' }),
    note: z.union([z.literal(''), SingleLine(300)]).default(''),
  })
  .refine(({ minutes, note }) => minutes >= 0 || note !== '', {
    path: ['note'],
    error: 'must say why, as this takes back what was noted',
  })
  .meta({ id: 'NewCourseHours' });
export type NewHours = z.output<typeof NewHours>;

export const Hours = z
  .object({
    id: Id,
    courseId: Id,
    minutes: z.int(),
    what: WorkKind,
    on: LocalDate,
    staffMemberId: Id.nullable(),
    staffMemberName: z.string().nullable(),
    note: z.string(),
    notedAt: z.iso.datetime(),
  })
  .meta({ id: 'CourseHours' });
export type Hours = z.output<typeof Hours>;
