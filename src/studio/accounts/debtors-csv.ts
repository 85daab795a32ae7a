import { stringify } from 'csv-stringify/sync';
import { Decimal, minorDigits } from '../../trade/money.js';
import type { Debtor } from './contract.js';

/**
 * What is owed as RFC 4180 text in UTF-8, a line for each charge. Amounts are decimals with a point, in the currency's own unit.
 * A spreadsheet would run a name that begins like a formula, so such text is marked as text; and it would read "Bézier" wrongly
 * without the byte order mark.
 */
export function debtorsCsv(debtors: readonly Debtor[], currency: string): string {
  const digits = minorDigits(currency);
  const major = (minor: number) => new Decimal(minor).div(new Decimal(10).pow(digits)).toFixed(digits);
  const rows = debtors.flatMap(({ name, remindedOn, charges }) =>
    charges.map((charge) => [
      ...[name, charge.kind, charge.description, currency],
      ...[charge.grossMinor, charge.creditedMinor, charge.paidMinor, charge.owedMinor, charge.dueMinor].map(major),
      ...[charge.dueOn ?? '', remindedOn ?? ''],
    ]),
  );
  const columns = [
    'person',
    'kind',
    'for',
    'currency',
    'price',
    'credited',
    'paid',
    'owed',
    'due',
    'due on',
    'reminded on',
  ];
  return stringify([columns, ...rows], {
    bom: true,
    record_delimiter: 'windows',
    quoted_string: true, // a separator of another country, inside a name, begins no cell
    escape_formulas: true,
  });
}
