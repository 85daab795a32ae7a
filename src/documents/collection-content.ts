import { z } from 'zod';
import { VESSEL_SHAPES } from '../trade/materials/vessel-shapes.js';
import { PaperDay, PaperLine, paperHead } from './parts.js';

/** The studio's own words never call a piece food safe: only a test of the piece can show what it gives off. */
const OwnWords = PaperLine.regex(
  /^(?!.*food[\s-]*safe)/iu,
  'Say what was tested and found, not that a piece is safe for food.',
);

/**
 * What a piece may be used for, and on whose word. The statement is that of the maker of the glaze, for this firing; without
 * one, and without a laboratory's test, a piece is decorative.
 */
const Use = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('decorative') }).readonly(),
  z.strictObject({ kind: z.literal('statement'), quote: PaperLine, glaze: PaperLine, on: PaperDay }).readonly(),
  z
    .strictObject({
      kind: z.literal('laboratory'),
      laboratory: PaperLine,
      report: PaperLine,
      on: PaperDay,
      finding: OwnWords,
    })
    .readonly(),
]);
export type Use = z.output<typeof Use>;

const Millimetres = z.number().min(1).max(2000);

const ReadyPiece = z
  .strictObject({
    code: z.string().trim().min(1).max(12),
    description: OwnWords,
    form: z.enum(VESSEL_SHAPES),
    widthMm: Millimetres,
    heightMm: Millimetres,
    sizeBasis: z.enum(['measured', 'assumed']),
    firing: OwnWords.meta({ description: 'The last firing, as the maker knows it: "glaze firing 15".' }),
    firedOn: PaperDay,
    use: Use,
  })
  .readonly();

const Owed = z.strictObject({ description: PaperLine, amountMinor: z.int().min(1) }).readonly();

/** All that stands on the notice that tells a maker what is ready, frozen. */
export const CollectionContent = z
  .strictObject({
    ...paperHead,
    writtenOn: PaperDay,
    maker: z.strictObject({ name: PaperLine }).readonly(),
    pieces: z.array(ReadyPiece).min(1, 'A notice is for at least one piece.').max(500).readonly(),
    collectBy: PaperDay,
    where: z.array(PaperLine).min(1).max(6).readonly(),
    when: z.array(PaperLine).min(1).max(6).readonly(),
    afterThat: PaperLine.meta({ description: 'What happens to work that is not collected, in one sentence.' }),
    firingFees: z.array(Owed).max(200).readonly(),
    otherOwed: z.array(Owed).max(200).readonly(),
    howToPay: PaperLine.nullable(),
  })
  .superRefine((content, context) => {
    const complain = (path: string[], message: string) => context.addIssue({ code: 'custom', path, message });
    if (content.collectBy < content.writtenOn)
      complain(['collectBy'], 'The last day to collect is before the day of the notice.');
    if (content.firingFees.length + content.otherOwed.length > 0 && content.howToPay === null)
      complain(['howToPay'], 'Say how to pay what is owed.');
  })
  .readonly();
export type CollectionContent = z.output<typeof CollectionContent>;

const sum = (owed: CollectionContent['firingFees']) => owed.reduce((total, one) => total + one.amountMinor, 0);

/** What is owed, in whole minor units: for firing, for the rest, together. */
export function owedSums(content: Pick<CollectionContent, 'firingFees' | 'otherOwed'>) {
  const firingMinor = sum(content.firingFees);
  const otherMinor = sum(content.otherOwed);
  return { firingMinor, otherMinor, totalMinor: firingMinor + otherMinor };
}
