import type { Debtor } from '../../../studio/accounts/contract.js';
import type { FiringCost, FiringInDetail, UnusedRoom } from '../../../studio/firings/contract.js';
import { type Money, noteText, section, table } from './text.js';

export function firingSection(fired: FiringInDetail, cost: FiringCost, unused: UnusedRoom, money: Money): string {
  const [before, after] = [fired.readings[0]?.kwh, fired.readings.at(-1)?.kwh];
  const answer = `Firing ${fired.number} (${fired.scheduleName}) cost ${money.inText(cost.energyAndWearMinor)}: the meter went from ${before} to ${after}, ${cost.energyKwh} kWh for ${money.inText(cost.energyMinor)}, and ${money.inText(cost.wearMinor)} of wear. Your ${cost.labourMinutes} minutes are worth ${money.inText(cost.labourMinor)} more, ${money.inText(cost.costMinor)} in all.`;
  const payers = { course: 'in the course price', maker: 'maker', studio: 'studio' };
  const parts = (amountMinor: number, labourMinor: number) =>
    [amountMinor - labourMinor, labourMinor, amountMinor].map(money.inTable);
  const rows = cost.shares.map((share) => [
    ...[share.code, share.personName, `${(share.weightMm3 / 1_000_000).toFixed(2)} l`],
    ...parts(share.amountMinor, share.labourMinor),
    payers[share.borneBy],
  ]);
  const total = [
    ['', 'Empty space', '', ...parts(cost.studioMinor, cost.studioLabourMinor), 'studio'],
    ['', 'Total', '', ...parts(cost.costMinor, cost.labourMinor), ''],
  ];
  const bills = cost.charges.map(({ personName, grossMinor }) => `${personName} ${money.inText(grossMinor)} with VAT`);
  const right = (head: string) => ({ head, align: 'right' as const });
  return section(
    'What did the glaze firing cost, and who pays for it?',
    answer,
    table(
      [
        ...[{ head: 'piece' }, { head: 'maker' }, right('room'), right('kiln'), right('your time'), right('share')],
        { head: 'paid by' },
      ],
      [...rows, ...total],
    ),
    noteText(`Billed: ${bills.join(', ')}. The studio pays for pieces that break in the kiln.`),
    ...(cost.whyNotAsPriced === null ? [] : [noteText(cost.whyNotAsPriced)]),
    noteText(unusedRoom(unused, money)),
  );
}

const CHOICE = { studio: 'paid by the studio', usual: 'at the usual fill', spread: 'spread over the pieces' };

/** What each choice of who pays for empty room would have meant. */
function unusedRoom({ firings, costMinor, choices }: UnusedRoom, money: Money): string {
  const each = choices.map(({ emptySpace, isSet, studioMinor }) => {
    return `${money.inText(studioMinor)} with empty room ${CHOICE[emptySpace]}${isSet ? ' (as you have it)' : ''}`;
  });
  return `Of the ${money.inText(costMinor)} of the last ${firings} firings, your time included, the studio would pay ${each.join(', ')}.`;
}

const KIND = { firing: 'firing fee', course: 'course', material: 'material', membership: 'membership' };

export function debtorsSection(debtors: readonly Debtor[], money: Money): string {
  const sum = (of: 'owedMinor' | 'dueMinor' | 'firingOwedMinor' | 'heldMinor') =>
    debtors.reduce((total, d) => total + d[of], 0);
  const firing = debtors.filter((d) => d.firingOwedMinor > 0).map((d) => d.name);
  const answer =
    `${money.inText(sum('owedMinor'))} is owed, ${money.inText(sum('firingOwedMinor'))} of it for firing${firing.length > 0 ? ` (${firing.join(', ')})` : ''}; ` +
    `${money.inText(sum('dueMinor'))} of it is due. ${money.inText(sum('heldMinor'))} is asked for held places, and not owed until they are confirmed.`;
  const rows = debtors.flatMap((debtor) =>
    debtor.charges.map((charge, i) => [
      i === 0 ? debtor.name : '',
      KIND[charge.kind],
      charge.description,
      charge.hold ? 'held' : (charge.dueOn ?? ''),
      money.inTable(charge.dueMinor),
      money.inTable(charge.owedMinor),
    ]),
  );
  return section(
    'Who owes what?',
    answer,
    table(
      [
        ...[{ head: 'who' }, { head: 'kind' }, { head: 'for', max: 44 }, { head: 'by' }],
        ...['due', 'owed'].map((head) => ({ head, align: 'right' as const })),
      ],
      rows,
    ),
  );
}
