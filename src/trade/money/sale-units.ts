import { numberFormat } from '../text/formatters.js';
import { amountMinor, Decimal } from './money.js';

/** What a material is counted in, always whole. */
export type BaseUnit = 'g' | 'ml' | 'piece';

/** As what people buy it: clay by the kilogram, glaze by the litre, brushes one by one. `per` is that in the base unit. */
export const SOLD_BY = {
  g: { unit: 'kg', per: 1000 },
  ml: { unit: 'l', per: 1000 },
  piece: { unit: 'piece', per: 1 },
} as const satisfies Record<BaseUnit, { unit: string; per: number }>;

/**
 * What so much of a material costs who takes it home, rounded once; VAT is inside, as it is in the price.
 *
 * @param quantity   whole g, ml or pieces
 * @param priceMinor whole minor units for a kilogram, a litre or a piece
 */
export function saleMinor(quantity: number, unit: BaseUnit, priceMinor: number): number {
  return amountMinor(quantity, new Decimal(priceMinor).div(SOLD_BY[unit].per).toFixed());
}

/** 12500 g as '12.5 kg', never parted at the end of a line. */
export function quantityInWords(quantity: number, unit: BaseUnit, locale: string): string {
  const number = (n: number) => numberFormat(locale, { maximumFractionDigits: 3 }).format(n);
  if (unit === 'piece') return `${number(quantity)}\u00a0${quantity === 1 ? 'piece' : 'pieces'}`;
  return quantity < 1000 ? `${number(quantity)}\u00a0${unit}` : `${number(quantity / 1000)}\u00a0${SOLD_BY[unit].unit}`;
}
