import { Decimal, roundHalfUp } from '../../../../trade/money/money.js';
import type { Schemas } from '../../../api/client';
import type { Formatter } from '../../../format/formatter';
import type { Done } from './unsaved-counts';

export type Material = Schemas['StockedMaterial'];
type Unit = Material['unit'];

export const KINDS: Record<Material['kind'], string> = {
  ...{ clay: 'Clay', glaze: 'Glazes', slip: 'Slips', underglaze: 'Underglazes', oxide: 'Oxides' },
  ...{ stain: 'Stains', rawMaterial: 'Raw materials', frit: 'Frits' },
  ...{ glass: 'Glass', lustre: 'Lustres', wax: 'Wax', kilnWash: 'Kiln wash', consumable: 'What is used up' },
  packaging: 'Packaging',
};

/** In what a material can be entered, the likelier first. */
export function unitsOf({ unit, packQuantity }: Material): readonly string[] {
  if (unit === 'piece') return ['pieces'];
  const both = unit === 'g' ? ['g', 'kg'] : ['ml', 'l'];
  return packQuantity >= 1000 ? both.reverse() : both;
}

/** To the gram, since two figures stand against each other: "12.515 kg", "850 ml", "14 pieces". */
export function exactly(quantity: number, unit: Unit, { locale }: Pick<Formatter, 'locale'>): string {
  const large = Math.abs(quantity) >= 1000 && unit !== 'piece';
  const number = new Intl.NumberFormat(locale, { maximumFractionDigits: 3 }).format(large ? quantity / 1000 : quantity);
  const called = {
    g: large ? 'kg' : 'g',
    ml: large ? 'l' : 'ml',
    piece: Math.abs(quantity) === 1 ? 'piece' : 'pieces',
  };
  return `${number}\u00a0${called[unit]}`;
}

/** "500 g less than the books say", or that the two agree. */
export function against(
  { counted, inBooks }: Pick<Done, 'counted' | 'inBooks'>,
  unit: Unit,
  formatter: Formatter,
): string {
  if (counted === inBooks) return 'as the books say';
  return `${exactly(Math.abs(counted - inBooks), unit, formatter)} ${counted < inBooks ? 'less' : 'more'} than the books said`;
}

/** Why a count may differ, in plain words; which fit goes by whether there is less or more. */
export const WHY = {
  less: ['Spilt', 'Dried out', 'Used without noting it', 'Miscounted before'],
  more: ['Found behind something', 'Delivery not recorded', 'Recorded as used but wasn’t', 'Miscounted before'],
};

/** What a difference is worth by what a pack cost lately; null where nothing is known. */
export function worthOfDifference(difference: number, line: Schemas['StockValueLine'] | undefined): number | null {
  if (!line?.packPrice) return null;
  return roundHalfUp(new Decimal(line.packPrice.amountMinor).times(difference).div(line.packQuantity));
}
