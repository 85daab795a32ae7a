import { Decimal, formatMoney, roundHalfUp } from '../../trade/money.js';

export type Manner = { currency: string; locale: string };

/** Writes amounts of the studio: whole minor units, or exact ones, rounded here and only here. */
export const moneyIn =
  ({ currency, locale }: Manner) =>
  (minor: number | string) =>
    formatMoney(typeof minor === 'number' ? minor : roundHalfUp(minor), currency, locale);

export const percent = (probability: string) => `${new Decimal(probability).times(100).toFixed(1)} %`;

/** A quantity to three decimals, without those that are nothing. */
export const quantity = (exact: string) => new Decimal(exact).toDecimalPlaces(3).toFixed();

const UNITS: Record<string, string> = { piece: 'pieces', 'kiln load': 'of a kiln load', course: '' };
export const unitOf = (unit: string) => UNITS[unit] ?? unit;

const NUMBERS = [
  'No',
  'One',
  'Two',
  'Three',
  'Four',
  'Five',
  'Six',
  'Seven',
  'Eight',
  'Nine',
  'Ten',
  'Eleven',
  'Twelve',
];
export const numberWord = (count: number) => NUMBERS[count] ?? String(count);
