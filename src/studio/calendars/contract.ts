import { z } from 'zod';
import { Id, Instant } from '../../http/types.js';

const Subject = z.enum(['studio', 'room', 'tutor']);

export const CalendarFeed = z
  .object({
    of: Subject,
    subjectId: Id.nullable().meta({ description: 'Of the room or the member of staff; null: the whole studio.' }),
    name: z.string(),
    feed: z
      .object({ id: Id, createdAt: Instant, madeBy: z.string(), lastReadAt: Instant.nullable() })
      .nullable()
      .meta({ description: 'Null: it has no address.' }),
  })
  .meta({ id: 'CalendarFeed', description: 'Whose sessions a calendar can read, and whether it can.' });
export type CalendarFeed = z.output<typeof CalendarFeed>;

export const NewCalendarFeed = z
  .strictObject({
    of: Subject,
    subjectId: Id.nullable().meta({ description: 'The room or the member of staff; null for the whole studio.' }),
  })
  .refine(({ of, subjectId }) => (of === 'studio') === (subjectId === null), {
    path: ['subjectId'],
    error: 'must be a room or a member of staff, or null for the whole studio',
  })
  .meta({ id: 'NewCalendarFeed' });
export type NewCalendarFeed = z.output<typeof NewCalendarFeed>;

export const MadeCalendarFeed = CalendarFeed.extend({
  address: z.string().nullable().meta({
    description: 'What a calendar subscribes to. It is shown this once; null where the request was sent again.',
  }),
  opensHereOnly: z.boolean().meta({ description: 'The address leads to this computer alone.' }),
}).meta({ id: 'MadeCalendarFeed' });
