import { z } from 'zod';
import { Id, LocalDate, SingleLine } from '../../../http/types.js';

const Means = z.enum(['onPaper', 'byEmail', 'byPhone', 'inPerson']);

export const NewConsent = z
  .strictObject({
    givenById: Id.meta({ description: 'One of the child’s guardians.' }),
    courseId: Id.nullable().default(null).meta({ description: 'For this course; null for all that they come to.' }),
    givenOn: LocalDate.optional().meta({ description: 'Today, if left out.' }),
    means: Means,
    what: SingleLine(500).meta({
      description: 'What they agreed to. For example, that the child comes alone, or first aid.',
    }),
  })
  .meta({ id: 'NewConsent' });
export type NewConsent = z.output<typeof NewConsent>;

export const Consent = z
  .object({
    ...{ id: Id, childId: Id, givenById: Id, givenByName: z.string() },
    courseId: Id.nullable(),
    courseTitle: z.string().nullable(),
    givenOn: LocalDate,
    means: Means,
    what: z.string(),
    notedAt: z.iso.datetime(),
    notedBy: z.string(),
    withdrawnAt: z.iso.datetime().nullable(),
    withdrawnBy: z.string().nullable(),
  })
  .meta({ id: 'Consent', description: 'A guardian’s consent for a child.' });
export type Consent = z.output<typeof Consent>;

export const NewWithdrawal = z.strictObject({}).meta({ id: 'NewConsentWithdrawal' });
