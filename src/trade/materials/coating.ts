import { Decimal } from '../money/money.js';
import { glazeDryGrams, millilitresFromDryGrams } from './glaze.js';
import { areaDm2, type SizeMm, type VesselShape } from './vessel-shapes.js';

/** What some pieces of one kind are coated with, inside and out. */
export interface Coating {
  form: VesselShape;
  size: SizeMm;
  pieces: number;
  /** decimal string: dry grams per dm² of the finished coating */
  gramsPerDm2: string;
  /** decimal string */
  wastePercent: string;
}

/**
 * How much of a glaze that takes, in the unit in which it is kept: ml of one whose dry grams per ml are known, dry grams otherwise.
 *
 * @returns a decimal string
 * @throws RangeError on a size or a rate that can't be
 */
export function glazeFor(
  { form, size, pieces, gramsPerDm2, wastePercent }: Coating,
  { unit, dryGramsPerMl }: { unit: 'g' | 'ml' | 'piece'; dryGramsPerMl: string | null },
): string {
  const area = new Decimal(areaDm2(form, size, { inside: true, outside: true })).times(pieces).toFixed();
  const grams = glazeDryGrams({ areaDm2: area, gramsPerDm2, wastePercent });
  return unit === 'ml' && dryGramsPerMl ? millilitresFromDryGrams(grams, dryGramsPerMl) : grams;
}
