import {
  Decimal,
  formatMoney,
  formatMoneyInText,
  majorUnits,
  minorDigits,
  roundHalfUp,
} from '../../../../trade/money/money.js';
import { formatDay } from '../../../../trade/text/format.js';
import { formatterFor } from '../../../format/formatter';

export type Manner = { currency: string; locale: string; timeZone: string };
export type Words = ReturnType<typeof wordsIn>;

const NBSP = '\u00a0';
const UNITS: Record<string, string> = {
  piece: 'pieces',
  'kiln load': 'of a kiln load',
  'whole load': 'whole loads',
  course: '',
};
const ONE: Record<string, string> = { piece: 'piece', 'kiln load': 'kiln load', 'whole load': 'whole load' };

/** How the studio writes its figures. */
export function wordsIn({ currency, locale, timeZone }: Manner) {
  const digits = minorDigits(currency);
  const rates = new Intl.NumberFormat(locale, { style: 'currency', currency, maximumFractionDigits: digits + 2 });
  const wholes = new Intl.NumberFormat(locale, { style: 'currency', currency, maximumFractionDigits: 0 });
  const percents = new Intl.NumberFormat(locale, {
    style: 'percent',
    minimumFractionDigits: 1,
    maximumFractionDigits: 1,
  });
  const wholePercents = new Intl.NumberFormat(locale, { style: 'percent', maximumFractionDigits: 0 });
  const plain = new Intl.NumberFormat(locale, { maximumFractionDigits: 6 });
  const { dayOf } = formatterFor({ currency, locale, timeZone });
  const written = (exact: Decimal, by: Intl.NumberFormat) =>
    by.format(exact.toFixed() as `${number}`).replace('-', '−');
  return {
    /** Whole minor units, or exact ones, rounded here and only here. */
    money: (minor: number | string) =>
      formatMoney(typeof minor === 'number' ? minor : roundHalfUp(minor), currency, locale),
    /** For a sentence: a whole sum without its ".00". */
    moneyInText: (minor: number | string) =>
      formatMoneyInText(typeof minor === 'number' ? minor : roundHalfUp(minor), currency, locale),
    /** For a field: no sign of the currency, a point before the pennies. */
    figures: (minor: number) => majorUnits(minor, currency),
    /** Without the pennies, which no drawing shows. */
    about: (exactMinor: string) =>
      written(new Decimal(exactMinor).div(new Decimal(10).pow(digits)).toDecimalPlaces(0), wholes),
    /** A rate with two digits more than a sum has: what 2.328 kg cost cannot be checked from £1.25. */
    rate: (minor: string) => written(new Decimal(minor).div(new Decimal(10).pow(digits)), rates),
    percent: (probability: string) => written(new Decimal(probability), percents),
    aboutPercent: (probability: string) => written(new Decimal(probability), wholePercents),
    /** A quantity in as many digits as its amount can be checked from. */
    quantity: (exact: string, unit: string) => {
      const number = new Decimal(exact);
      const short = number.lt(1) ? number.toSignificantDigits(4) : number.toDecimalPlaces(3);
      const called = number.eq(1) ? (ONE[unit] ?? UNITS[unit]) : UNITS[unit];
      return `${written(short, plain)}${NBSP}${called ?? unit}`.trimEnd();
    },
    day: (instant: string) => formatDay(dayOf(instant), locale),
  };
}

const NUMBERS =
  'No One Two Three Four Five Six Seven Eight Nine Ten Eleven Twelve Thirteen Fourteen Fifteen Sixteen'.split(' ');

/** At the head of a sentence: "Breaks even at five students". */
export const students = (count: number) => `${NUMBERS[count] ?? count} ${count === 1 ? 'student' : 'students'}`;
export const heads = (count: number) => (count === 1 ? '1 person' : `${count} people`);
