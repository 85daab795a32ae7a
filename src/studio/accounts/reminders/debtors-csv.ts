import { csvOf } from '../../../http/csv.js';
import { majorUnits } from '../../../trade/money/money.js';
import type { Debtor } from '../contract.js';

/** What is owed, for a spreadsheet: a line for each charge; what is asked for a held place has a column of its own. Amounts are decimals with a point, in the currency's own unit. */
export function debtorsCsv(debtors: readonly Debtor[], currency: string): string {
  const major = (minor: number) => majorUnits(minor, currency);
  const rows = debtors.flatMap(({ name, remindedOn, charges }) =>
    charges.map((charge) => [
      ...[name, charge.kind, charge.description, currency],
      ...[charge.grossMinor, charge.creditedMinor, charge.paidMinor, charge.owedMinor, charge.dueMinor].map(major),
      ...[charge.dueOn ?? '', remindedOn ?? '', major(charge.heldMinor), charge.hold?.until ?? ''],
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
    'held, not owed',
    'held until',
  ];
  return csvOf([columns, ...rows]);
}
