import type { OrderProposal } from '../../../studio/orders/proposal-contract.js';
import type { Studio } from '../../../studio/settings/contract.js';
import { formatDay } from '../../../trade/text/format.js';
import { AMOUNT, type Money, noteText, section, table } from './text.js';

/** One order for each supplier, and what is mixed instead of bought. */
export function ordersSection({ suppliers, toMix, unsold }: OrderProposal, money: Money, { locale }: Studio): string {
  const orders = suppliers.map(
    ({ supplier, totalMinor, orderBy }) =>
      `${money.inText(totalMinor)} of ${supplier} by ${formatDay(orderBy, locale)}`,
  );
  const batches = toMix.map(({ name, unit, needQuantity }) => `${AMOUNT[unit](needQuantity)} of ${name}`);
  const answer = [
    orders.length === 0 ? 'Nothing needs ordering.' : `Order ${orders.join(', and ')}.`,
    ...(batches.length === 0 ? [] : [`Mix ${batches.join(', and ')}.`]),
    ...unsold.map(({ name }) => `No supplier is set for ${name}.`),
  ].join(' ');
  const rows = suppliers.flatMap(({ supplier, lines, carriageMinor }) => [
    ...lines.flatMap(({ name, unit, packs }) =>
      packs.map((pack) => [
        ...[supplier, name, `${pack.packs} of ${AMOUNT[unit](pack.packQuantity)}`],
        money.inTable(pack.amountMinor),
      ]),
    ),
    ...(carriageMinor === 0 ? [] : [[supplier, 'Carriage', '', money.inTable(carriageMinor)]]),
  ]);
  const columns = [
    { head: 'supplier' },
    { head: 'what' },
    { head: 'packs' },
    { head: 'costs', align: 'right' as const },
  ];
  const advice = suppliers.flatMap(({ supplier, toFreeCarriage }) =>
    toFreeCarriage ? [noteText(`${supplier}: ${toFreeCarriage.advice}`)] : [],
  );
  return section('What needs ordering?', answer, ...(rows.length === 0 ? [] : [table(columns, rows)]), ...advice);
}
