import { z } from 'zod';
import { PaperDay, PaperLine } from './parts.js';
import { dateInWords } from './words.js';

/** As much as a material's warning or a recipe's note may hold. */
export const Words = z
  .string()
  .min(1)
  .max(600)
  .regex(/^\P{Cc}*$/u, 'Write it on one line, without control characters.');

/** What a material's safety data sheet warns of, with its kind; null where nobody has entered it. */
export const Hazard = z
  .strictObject({
    name: PaperLine,
    kind: z.string(),
    warning: z.strictObject({ text: Words, statedOn: PaperDay }).nullable(),
  })
  .readonly();
export type Hazard = z.output<typeof Hazard>;

/** What is true of any material of a kind (common practice of the trade), whatever has been entered of this one. */
const OF_KIND: Readonly<Record<string, string>> = {
  lustre:
    'Flammable, and gives off solvent vapour, also in the kiln: ventilate the room to the outside, no flames or sparks, wear gloves.',
  glass:
    'Edges cut, and its dust harms: wear gloves and eye protection. It gives off fumes in the kiln: ventilate the room.',
  oxide: 'May be toxic: wear gloves, breathe no dust or spray, no food or drink near it.',
  stain: 'May be toxic: wear gloves, breathe no dust or spray, no food or drink near it.',
  wax: 'Gives off smoke in the kiln: ventilate the room.',
};
/** Kinds of which something is always said; of the others only what their sheet warns of. */
const isHazardous = ({ kind, warning }: Pick<Hazard, 'kind' | 'warning'>): boolean =>
  warning !== null || kind in OF_KIND;

export const SHEETS_FIRST = 'The suppliers’ safety data sheets take precedence.';

/** "Lantern gold – Flammable, … Holds solvents (data sheet dated 20 January 2025)." */
function warningOf({ name, kind, warning }: Hazard, locale: string): string {
  const sheet =
    warning === null
      ? []
      : [`${warning.text.replace(/[.\s]+$/u, '')} (data sheet dated ${dateInWords(warning.statedOn, locale)}).`];
  return `${name} – ${[...(OF_KIND[kind] ? [OF_KIND[kind]] : []), ...sheet].join(' ')}`;
}

/** A sentence for each material of which there is something to say, and one that names those whose sheet nobody has entered. */
export function warnings(hazards: readonly Hazard[], locale: string): string[] {
  const known = hazards.filter(isHazardous).map((hazard) => warningOf(hazard, locale));
  const unknown = hazards.filter(({ warning }) => warning === null).map(({ name }) => name);
  return unknown.length === 0
    ? known
    : [...known, `No warning is entered for ${unknown.join(', ')}. Read the supplier’s safety data sheet first.`];
}

/** What somebody must mind who only uses these materials or fires them: a sentence for each that needs care; none where nothing does. */
export function cautionsOf(hazards: readonly Hazard[], locale: string): string[] {
  const known = hazards.filter(isHazardous).map((hazard) => warningOf(hazard, locale));
  return known.length === 0 ? [] : [...known, SHEETS_FIRST];
}
