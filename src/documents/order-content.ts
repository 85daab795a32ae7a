import { z } from 'zod';
import { amountMinor } from '../trade/money/money.js';
import { PaperDay, PaperLine, PaperMinor, Party, paperHead } from './parts.js';

/** All that stands on an order to a supplier, frozen when it was placed. */
export const OrderContent = z
  .strictObject({
    ...paperHead,
    number: PaperLine,
    placedOn: PaperDay,
    expectedOn: PaperDay,
    supplier: Party,
    lines: z
      .array(
        z.strictObject({
          name: PaperLine,
          pack: PaperLine.meta({ description: 'How much is in one, such as "12.5 kg".' }),
          packs: z.int().min(1),
          packPriceMinor: PaperMinor,
          amountMinor: PaperMinor,
        }),
      )
      .min(1)
      .readonly(),
    carriageMinor: PaperMinor,
    totalMinor: PaperMinor,
    note: PaperLine.nullable(),
  })
  .superRefine(({ lines, carriageMinor, totalMinor }, context) => {
    const complain = (path: (string | number)[], message: string) =>
      context.addIssue({ code: 'custom', path, message });
    for (const [i, line] of lines.entries())
      if (line.amountMinor !== amountMinor(line.packs, String(line.packPriceMinor)))
        complain(['lines', i, 'amountMinor'], 'This is not the number of packs times their price.');
    if (totalMinor !== lines.reduce((sum, { amountMinor }) => sum + amountMinor, carriageMinor))
      complain(['totalMinor'], 'The lines and the carriage do not add up to this.');
  })
  .readonly();
export type OrderContent = z.output<typeof OrderContent>;
