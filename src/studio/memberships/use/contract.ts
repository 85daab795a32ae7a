import { z } from 'zod';
import { LocalDate, Minor } from '../../../http/types.js';

const UseLine = z.object({
  what: z.enum(['bench', 'firing', 'clay']),
  on: LocalDate,
  called: z.string(),
  used: z.number().meta({ description: 'Minutes at the bench, litres in the kiln, grams of clay.' }),
  included: z.number().meta({ description: 'Of that, what the membership includes.' }),
  includedMinor: Minor.meta({ description: 'What that would have cost.' }),
  chargedMinor: Minor.meta({ description: 'What was charged for the rest, VAT included.' }),
});
export type UseLine = z.output<typeof UseLine>;

const UseTotal = z.object({
  what: UseLine.shape.what,
  includes: z.number().meta({ description: 'In this month: minutes, litres or grams.' }),
  used: z.number().meta({ description: 'Of what it includes.' }),
  left: z.number(),
  beyond: z.number().meta({ description: 'Used beyond it, at the usual price.' }),
  beyondMinor: Minor.meta({ description: 'What was charged for that.' }),
});

export const MembershipUse = z
  .object({
    month: LocalDate,
    totals: z.array(UseTotal).meta({ description: 'Only of what it includes, or what was used all the same.' }),
    lines: z.array(UseLine).meta({ description: 'By day: what was used, from which the totals follow.' }),
  })
  .meta({ id: 'MembershipUse' });
export type MembershipUse = z.output<typeof MembershipUse>;

export const MembershipUseQuery = z.strictObject({
  month: LocalDate.optional().meta({ description: 'Any day of the month; this month, if left out.' }),
});
