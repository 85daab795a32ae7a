import { z } from 'zod';

export const SampleStatus = z
  .object({
    state: z.enum(['absent', 'loading', 'ready', 'failed', 'impossible']),
    detail: z.string().nullable().meta({ description: 'Why it failed or is not possible, and what to do.' }),
  })
  .meta({ id: 'SampleStatus' });

export const SampleVisit = z
  .object({ url: z.string().meta({ description: 'Where the sample studio is; the answer signs you in there.' }) })
  .meta({ id: 'SampleVisit' });
