import { stringify } from 'csv-stringify/sync';
import type { OrderContent } from '../../documents/order-content.js';
import { Decimal, minorDigits } from '../../trade/money.js';
import { head } from '../accounts/papers.js';
import type { Supplier } from '../materials/supplier-contract.js';
import type { Studio } from '../settings/contract.js';
import type { Order } from './contract.js';

export const orderName = (number: number): string => `Order-${String(number).padStart(4, '0')}`;

/** What stands on the paper of an order. */
export function orderContent(
  home: Studio,
  { number, lines, carriageMinor, totalMinor, note }: Order,
  seller: Supplier,
  days: { placedOn: string; expectedOn: string },
): OrderContent {
  return {
    ...head(home),
    ...days,
    number: String(number).padStart(4, '0'),
    supplier: { name: seller.name, addressLines: seller.addressLines },
    lines: lines.map(({ name, packQuantity, unit, packs, packPriceMinor, amountMinor }) => ({
      ...{ name, packs, packPriceMinor, amountMinor },
      pack: packInWords(packQuantity, unit, home.locale),
    })),
    carriageMinor,
    totalMinor,
    note,
  };
}

const LARGER = { g: 'kg', ml: 'l' } as const;

/** 12500 g as '12.5 kg', never parted at the end of a line. */
function packInWords(quantity: number, unit: Order['lines'][number]['unit'], locale: string): string {
  const number = (n: number) => new Intl.NumberFormat(locale, { maximumFractionDigits: 3 }).format(n);
  if (unit === 'piece') return `${number(quantity)}\u00a0${quantity === 1 ? 'piece' : 'pieces'}`;
  return quantity < 1000 ? `${number(quantity)}\u00a0${unit}` : `${number(quantity / 1000)}\u00a0${LARGER[unit]}`;
}

/**
 * An order as RFC 4180 text in UTF-8: a row for each line, and one for the carriage, so that the amounts add up to what is to pay.
 * A spreadsheet would run a name that begins like a formula, so such text is marked as text; and it would read "Bézier" wrongly
 * without the byte order mark.
 */
export function orderCsv({ number, supplier, lines, carriageMinor }: Order, currency: string): string {
  const digits = minorDigits(currency);
  const major = (minor: number) => new Decimal(minor).div(new Decimal(10).pow(digits)).toFixed(digits);
  const columns = ['order', 'supplier', 'what', 'in a pack', 'unit', 'packs', 'price of a pack', 'amount', 'currency'];
  const goods = lines.map((line) => [
    ...[number, supplier, line.name, line.packQuantity, line.unit, line.packs],
    ...[major(line.packPriceMinor), major(line.amountMinor), currency],
  ]);
  const carriage = [number, supplier, 'Carriage', '', '', '', '', major(carriageMinor), currency];
  return stringify([columns, ...goods, carriage], {
    bom: true,
    record_delimiter: 'windows',
    quoted_string: true, // a separator of another country, inside a name, begins no cell
    escape_formulas: true,
  });
}
