import { z } from 'zod';
import { Day, Line } from './parts.js';
import { dateInWords } from './words.js';

/** As much as a material's warning or a recipe's note may hold. */
export const Words = z
  .string()
  .min(1)
  .max(600)
  .regex(/^\P{Cc}*$/u, 'Write it on one line, without control characters.');

/** What the maker's sheet of a part warns of; null where nobody has entered it. */
export const Hazard = z
  .strictObject({
    name: Line,
    warning: z.strictObject({ text: Words, statedOn: Day }).nullable(),
  })
  .readonly();
export type Hazard = z.output<typeof Hazard>;

/** Common practice where dry glaze is weighed; each maker's sheet and the rules of the place go before it. */
export const CAUTIONS = [
  'Dust harms the lungs for good. Wear a fitted mask while you weigh, pour and sieve; clean up wet, never sweep.',
  'Nothing to eat or drink beside it; gloves where a sheet asks for them; water on the powder, not powder thrown into water.',
  'The makers’ safety data sheets and your local rules go before what stands here.',
  'What is mixed here is not known to suit food or drink: only a laboratory’s test of the fired ware tells that.',
];

/** The warnings of the parts, each with the day of its sheet, and which parts have none. */
export function warnings(hazards: readonly Hazard[], locale: string): string[] {
  const known = hazards.flatMap(({ name, warning }) =>
    warning === null ? [] : [`${name}: ${warning.text} (sheet of ${dateInWords(warning.statedOn, locale)})`],
  );
  const unknown = hazards.filter(({ warning }) => warning === null).map(({ name }) => name);
  return unknown.length === 0
    ? known
    : [...known, `No warning is noted for ${unknown.join(', ')}. Read the maker’s sheet first.`];
}
