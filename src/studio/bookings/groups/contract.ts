import { z } from 'zod';
import { Ids } from '../../courses/contract.js';

export const NewNames = z
  .strictObject({
    attendeeIds: Ids(20).min(1).meta({ description: 'Who of the group comes, and had no name so far.' }),
  })
  .meta({ id: 'NewNames' });
export type NewNames = z.output<typeof NewNames>;
