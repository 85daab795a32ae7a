import { Decimal, formatMoney, formatMoneyInText, minorDigits } from '../trade/money/money.js';
import { formatDay } from '../trade/text/format.js';
import { numberFormat } from '../trade/text/formatters.js';
import { voucherCodeInWords } from '../trade/text/voucher-code.js';
import { unprintable } from './fonts.js';
import type { PaymentMethod } from './parts.js';

export type PaperLocale = { currency: string; locale: string };

/** '2026-03-12' as '12 March 2026', or with its weekday. @param day YYYY-MM-DD */
export const dateInWords = (day: string, locale: string, weekday = false): string =>
  formatDay(day, locale, { weekday });

/** Writes amounts in the document's manner; by the currency's letters where the font lacks its sign. */
export function moneyInWords({ currency, locale }: PaperLocale): (minor: number) => string {
  return (minor) => {
    const text = formatMoney(minor, currency, locale);
    return unprintable(text).length === 0 ? text : exactMoney(minor, 1, { currency, locale }, 'code');
  };
}

/** The same in a sentence: without ".00" where it is a whole number of pounds. */
export function moneyInText({ currency, locale }: PaperLocale): (minor: number) => string {
  return (minor) => {
    const text = formatMoneyInText(minor, currency, locale);
    return unprintable(text).length === 0 ? text : exactMoney(minor, 1, { currency, locale }, 'code', 'stripIfInteger');
  };
}

/** The price of one of several, which may not come out in whole minor units: two more digits are shown where needed. */
export function unitPrice(minor: number, quantity: number, manner: PaperLocale): string {
  const text = exactMoney(minor, quantity, manner, 'symbol');
  return unprintable(text).length === 0 ? text : exactMoney(minor, quantity, manner, 'code');
}

function exactMoney(
  minor: number,
  quantity: number,
  { currency, locale }: PaperLocale,
  currencyDisplay: 'code' | 'symbol',
  trailingZeroDisplay: 'auto' | 'stripIfInteger' = 'auto',
) {
  const digits = minorDigits(currency);
  const major = new Decimal(minor)
    .div(quantity)
    .div(new Decimal(10).pow(digits))
    .toFixed(digits + 2);
  const format = numberFormat(locale, {
    style: 'currency',
    currency,
    currencyDisplay,
    trailingZeroDisplay,
    minimumFractionDigits: digits,
    maximumFractionDigits: digits + 2,
  });
  return format.format(major as `${number}`);
}

/** The code of a voucher in its groups, never parted at the end of a line. */
export const unpartedCode = (code: string) => voucherCodeInWords(code).replaceAll(' ', '\u00a0');

/** '1 piece', '4 pieces'. */
export const countOf = (n: number, one: string, many = `${one}s`) => `${n}\u00a0${n === 1 ? one : many}`;

const METHODS: Record<PaymentMethod, string> = {
  cash: 'in cash',
  card: 'by card',
  transfer: 'by bank transfer',
  voucher: 'by voucher',
  carried: 'carried over',
};
export const methodInWords = (method: PaymentMethod) => METHODS[method];
