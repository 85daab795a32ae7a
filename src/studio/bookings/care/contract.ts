import { z } from 'zod';
import { Id, Text } from '../../../http/types.js';

const CARE_NOTE_MAX = 500;

export const NewCareNote = z
  .strictObject({
    careNote: Text(CARE_NOTE_MAX)
      .refine((text) => text.trim() !== '', 'must say something, or be null')
      .nullable()
      .meta({
        description: 'What they told you about health or access, for example an allergy. Null removes it for good.',
      }),
  })
  .meta({ id: 'NewCareNote' });
export type NewCareNote = z.output<typeof NewCareNote>;

export const CareNote = z
  .object({
    careNote: z.string().nullable(),
    changes: z
      .array(z.object({ what: z.enum(['added', 'changed', 'removed']), at: z.iso.datetime(), by: z.string() }))
      .meta({ description: 'Who added, changed or removed it, the first first; what it said is not kept.' }),
  })
  .meta({ id: 'CareNote', description: 'Owners see it, and who teaches a session for which the person is booked.' });
export type CareNote = z.output<typeof CareNote>;

export const CourseCareNotes = z
  .object({
    notes: z.array(z.object({ sessionId: Id, personId: Id, careNote: z.string() })).meta({
      description:
        'Of who has a place at a session, for owners; for tutors, at sessions that they teach, until the day after.',
    }),
  })
  .meta({ id: 'CourseCareNotes' });
export type CourseCareNotes = z.output<typeof CourseCareNotes>;
