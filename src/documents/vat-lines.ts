import { z } from 'zod';
import { groupBy } from '../trade/maths/group-by.js';
import { vatInside } from '../trade/money/tax.js';
import { formatPercent } from '../trade/text/format.js';
import { PaperLine, PaperMinor } from './parts.js';

export const vatLineFields = {
  description: PaperLine,
  quantity: z.int().min(1),
  grossMinor: PaperMinor,
  taxLabel: PaperLine,
  vatPercent: z
    .string()
    .regex(/^\d{1,3}(\.\d{1,4})?$/)
    .nullable(),
  vatMinor: PaperMinor,
  netMinor: PaperMinor,
};

/** One line of a receipt or credit note. `taxLabel` says what holds where there is no rate: "exempt from VAT". */
export const VatLine = z.strictObject(vatLineFields).readonly();
export type VatLine = z.output<typeof VatLine>;

export type VatSum = {
  vatPercent: string | null;
  taxLabel: string;
  netMinor: number;
  vatMinor: number;
  grossMinor: number;
};

const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0);

/** The rate of a line or a sum, or in words why it has none. */
export const rateInWords = ({ vatPercent, taxLabel }: Pick<VatSum, 'vatPercent' | 'taxLabel'>, locale: string) =>
  vatPercent === null ? taxLabel : formatPercent(vatPercent, locale);

/** The lines added up for each rate, in the order in which the rates first stand. */
export function vatSums(lines: readonly VatLine[]): VatSum[] {
  const groups = groupBy(lines, (line) => line.vatPercent ?? line.taxLabel);
  return [...groups.values()].map((group) => ({
    vatPercent: group[0]?.vatPercent ?? null,
    taxLabel: group[0]?.taxLabel ?? '',
    netMinor: sum(group.map((line) => line.netMinor)),
    vatMinor: sum(group.map((line) => line.vatMinor)),
    grossMinor: sum(group.map((line) => line.grossMinor)),
  }));
}

export type Complain = (path: (string | number)[], message: string) => void;

/** What must hold between the figures of the lines and their total, or the paper would contradict itself. */
export function checkLines(lines: readonly VatLine[], totalMinor: number, complain: Complain): void {
  for (const [i, line] of lines.entries()) {
    const at = ['lines', i];
    if (line.netMinor + line.vatMinor !== line.grossMinor)
      complain([...at, 'netMinor'], 'Net and VAT must add up to the gross amount.');
    if (line.vatPercent === null && line.vatMinor !== 0)
      complain([...at, 'vatMinor'], 'A line without a VAT rate has no VAT.');
    // one unit off is right where a price is paid in parts, since the parts add up to the VAT of the whole
    if (
      line.vatPercent !== null &&
      Math.abs(line.vatMinor - vatInside(line.grossMinor, { kind: 'standard', percent: line.vatPercent })) > 1
    )
      complain([...at, 'vatMinor'], 'This is not the VAT that the rate gives.');
  }
  if (sum(lines.map((line) => line.grossMinor)) !== totalMinor)
    complain(['totalMinor'], 'The lines must add up to the total.');
}
