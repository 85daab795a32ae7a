import type { Proposal } from '../../../studio/orders/proposal-contract.js';
import { AMOUNT, note, section, table } from './text.js';

type Money = (minor: number) => string;

/** One order for each supplier, and what is mixed instead of bought. */
export function ordersSection({ suppliers, toMix, unsold }: Proposal, money: Money): string {
  const orders = suppliers.map(
    ({ supplier, totalMinor, orderBy }) => `${money(totalMinor)} of ${supplier} by ${orderBy}`,
  );
  const batches = toMix.map(({ name, unit, needQuantity }) => `${AMOUNT[unit](needQuantity)} of ${name}`);
  const answer = [
    orders.length === 0 ? 'Nothing must be ordered.' : `Order ${orders.join(', and ')}.`,
    ...(batches.length === 0 ? [] : [`Mix ${batches.join(', and ')}.`]),
    ...unsold.map(({ name }) => `Nobody is known to sell ${name}.`),
  ].join(' ');
  const rows = suppliers.flatMap(({ supplier, lines, carriageMinor }) => [
    ...lines.flatMap(({ name, unit, packs }) =>
      packs.map((pack) => [
        ...[supplier, name, `${pack.packs} of ${AMOUNT[unit](pack.packQuantity)}`],
        money(pack.amountMinor),
      ]),
    ),
    ...(carriageMinor === 0 ? [] : [[supplier, 'Carriage', '', money(carriageMinor)]]),
  ]);
  const columns = [
    { head: 'of whom' },
    { head: 'what' },
    { head: 'packs' },
    { head: 'costs', align: 'right' as const },
  ];
  const advice = suppliers.flatMap(({ supplier, toFreeCarriage }) =>
    toFreeCarriage ? [note(`${supplier}: ${toFreeCarriage.advice}`)] : [],
  );
  return section('What must be ordered?', answer, ...(rows.length === 0 ? [] : [table(columns, rows)]), ...advice);
}
