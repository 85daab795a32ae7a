import { Decimal, roundKeepingTotal } from '../../../../trade/money/money.js';
import type { ComparedRow, Factor, PriceComparison } from '../../../../trade/pricing/compare-prices.js';
import { along } from '../../../charts/linear-scale';
import { type Column, DataTable } from '../../../ui/data-table';
import { Bar } from './diverging-bar';
import type { Words } from './labels';

const CALLED: Record<Factor, string> = {
  hours: 'Your hours',
  wage: 'What your hour is worth',
  tutor: 'The second tutor',
  offer: 'Places, minimum and how many book',
  paid: 'VAT, card, payments and other prices',
  wishes: 'The surplus you want, and the risk you accept',
  rounding: 'Rounding to the step',
};

type Props = { compared: Pick<PriceComparison, 'rows' | 'firstMinor' | 'secondMinor'>; caption: string; words: Words };

/** Each thing in which two prices differ, with what it makes of the price; the column adds up. */
export function Differences({ compared: { rows, firstMinor, secondMinor }, caption, words }: Props) {
  const effects = roundKeepingTotal(rows.map(({ effectMinor }) => new Decimal(effectMinor)));
  const most = Math.max(1, ...rows.map(({ effectMinor }) => Math.abs(Number(effectMinor))));
  const percent = along({ from: 0, to: most }, { from: 0, to: 50 });
  const lines = rows.map((row, i) => ({ row, partMinor: effects.partsMinor[i] ?? 0 }));
  const columns: Column<(typeof lines)[number]>[] = [
    {
      head: 'What',
      cell: ({ row }) => (
        <>
          {row.line?.label ?? CALLED[row.key as Factor]} <small>{lineTold(row, words)}</small>
        </>
      ),
    },
    {
      ...{ head: 'On the price', figures: true, total: signed(secondMinor - firstMinor, words) },
      cell: ({ partMinor }) => signed(partMinor, words),
    },
    { head: '', cell: ({ row }) => <Bar percent={percent(Number(row.effectMinor))} /> },
  ];
  return (
    <DataTable
      class="differs"
      caption={caption}
      captionShown
      columns={columns}
      rows={lines}
      keyOf={({ row }) => row.key}
      total="Total"
    />
  );
}

const lineTold = ({ line }: ComparedRow, { money }: Words) =>
  line &&
  `${line.second === null ? 'none' : money(line.second)} instead of ${line.first === null ? 'none' : money(line.first)}`;

const signed = (minor: number, { money }: Words) => `${minor < 0 ? '−' : '+'}${money(Math.abs(minor))}`;
