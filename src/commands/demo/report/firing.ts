import type { Debtor } from '../../../studio/accounts/contract.js';
import type { FiringCost, FiringInDetail } from '../../../studio/firings/contract.js';
import { note, section, table } from './text.js';

type Money = (minor: number) => string;

export function firingSection(fired: FiringInDetail, cost: FiringCost, money: Money): string {
  const [before, after] = [fired.readings[0]?.kwh, fired.readings.at(-1)?.kwh];
  const answer = `Firing ${fired.number} (${fired.scheduleName}) cost ${money(cost.costMinor)}: the meter went from ${before} to ${after}, ${cost.energyKwh} kWh for ${money(cost.energyMinor)}; ${money(cost.wearMinor)} of wear; ${cost.labourMinutes} minutes of work for ${money(cost.labourMinor)}.`;
  const bears = { course: 'in the course price', maker: 'maker', studio: 'studio' };
  const rows = cost.shares.map((share) => [
    share.code,
    share.personName,
    `${(share.weightMm3 / 1_000_000).toFixed(2)} l`,
    money(share.amountMinor),
    bears[share.borneBy],
  ]);
  const shared = cost.shares.reduce((sum, share) => sum + share.amountMinor, 0);
  const total = [
    ['', 'Empty space', '', money(cost.studioMinor), 'studio'],
    ['', 'Together', '', money(shared + cost.studioMinor), ''],
  ];
  const bills = cost.charges.map(({ personName, grossMinor }) => `${personName} ${money(grossMinor)} with VAT`);
  return section(
    'What did the glaze firing cost, and whose is it?',
    answer,
    table(
      [
        { head: 'piece' },
        { head: 'maker' },
        { head: 'room', align: 'right' },
        { head: 'share', align: 'right' },
        { head: 'borne by' },
      ],
      [...rows, ...total],
    ),
    note(`Billed: ${bills.join(', ')}. What a kiln breaks is the studio's.`),
  );
}

const KIND = { firing: 'firing fee', course: 'course', material: 'material' };

export function debtorsSection(debtors: readonly Debtor[], money: Money): string {
  const sum = (of: 'owedMinor' | 'firingOwedMinor') => debtors.reduce((total, d) => total + d[of], 0);
  const firing = debtors.filter((d) => d.firingOwedMinor > 0).map((d) => d.name);
  const answer = `${money(sum('owedMinor'))} is owed, ${money(sum('firingOwedMinor'))} of it for firing${firing.length > 0 ? ` (${firing.join(', ')})` : ''}.`;
  const rows = debtors.flatMap((debtor) =>
    debtor.charges.map((charge, i) => [
      i === 0 ? debtor.name : '',
      KIND[charge.kind],
      charge.description,
      charge.dueMinor > 0 ? `${charge.dueOn} (due)` : (charge.dueOn ?? ''),
      money(charge.owedMinor),
    ]),
  );
  return section(
    'Who owes what?',
    answer,
    table(
      [{ head: 'who' }, { head: 'kind' }, { head: 'for', max: 44 }, { head: 'by' }, { head: 'owed', align: 'right' }],
      rows,
    ),
  );
}
