import type { OrderContent } from '../../documents/order-content.js';
import type { PaperHead } from '../../documents/parts.js';
import { csvOf } from '../../http/csv.js';
import { majorUnits } from '../../trade/money/money.js';
import { quantityInWords } from '../../trade/money/sale-units.js';
import type { Supplier } from '../materials/supplier-contract.js';
import type { Order } from './contract.js';

export const orderName = (number: number): string => `Order-${String(number).padStart(4, '0')}`;

/** What stands on the paper of an order. */
export function orderContent(
  head: PaperHead,
  { number, lines, carriageMinor, totalMinor, note }: Order,
  supplier: Supplier,
  days: { placedOn: string; expectedOn: string },
): OrderContent {
  return {
    ...head,
    ...days,
    number: String(number).padStart(4, '0'),
    supplier: { name: supplier.name, addressLines: supplier.addressLines },
    lines: lines.map(({ name, packQuantity, unit, packs, packPriceMinor, amountMinor }) => ({
      ...{ name, packs, packPriceMinor, amountMinor },
      pack: quantityInWords(packQuantity, unit, head.locale),
    })),
    carriageMinor,
    totalMinor,
    note,
  };
}

/** An order for a spreadsheet: a row for each line, and one for the carriage, so that the amounts add up to what is to pay. */
export function orderCsv({ number, supplier, lines, carriageMinor }: Order, currency: string): string {
  const major = (minor: number) => majorUnits(minor, currency);
  const columns = ['order', 'supplier', 'what', 'in a pack', 'unit', 'packs', 'price of a pack', 'amount', 'currency'];
  const goods = lines.map((line) => [
    ...[number, supplier, line.name, line.packQuantity, line.unit, line.packs],
    ...[major(line.packPriceMinor), major(line.amountMinor), currency],
  ]);
  const carriage = [number, supplier, 'Carriage', '', '', '', '', major(carriageMinor), currency];
  return csvOf([columns, ...goods, carriage]);
}
