import type { PriceComparison } from '../../../../trade/pricing/compare-prices.js';
import type { PriceInputs, PriceResult } from '../../../../trade/pricing/course-price.js';
import { type Column, DataTable } from '../../../ui/data-table';
import { Differences } from './differences';
import type { Words } from './labels';
import { studentCost } from './unit-economics';

type Side = { title: string; inputs: PriceInputs; result: PriceResult };
type Props = { first: Side; second: Side; compared: PriceComparison; words: Words };

/** The figures of both, and each thing in which they differ with what it makes of the price; its column adds up. */
export function CompareTable({ first, second, compared, words }: Props) {
  const { moneyInText: money } = words;
  const difference = compared.secondMinor - compared.firstMinor;
  const amount = money(Math.abs(difference));
  return (
    <>
      <p>
        {difference === 0
          ? `Both come to ${money(compared.firstMinor)}.`
          : `“${second.title}” must cost ${amount} ${difference > 0 ? 'more' : 'less'}: ${money(compared.secondMinor)} instead of ${money(compared.firstMinor)}.`}
      </p>
      <Figures {...{ first, second, words }} />
      {compared.rows.length > 0 && (
        <Differences {...{ compared, words }} caption="What makes the difference, the greatest first" />
      )}
    </>
  );
}

function Figures({ first, second, words: { money } }: Omit<Props, 'compared'>) {
  const rows: [string, (side: Side) => string][] = [
    ['Fair price', ({ result }) => money(result.fairPriceMinor)],
    ['Your hour is paid from', ({ result }) => money(result.floorMinor)],
    ['Costs are covered from', ({ result }) => money(result.costFloorMinor)],
    ['Your pay an hour', ({ result }) => money(result.payPerHour.meanMinor)],
    ['Breaks even at', ({ result: { breakEvenStudents: at } }) => (at === null ? 'no number' : String(at))],
    ['What each student costs', ({ inputs, result }) => money(studentCost(inputs, result.perStudentMinor).toFixed())],
  ];
  const columns: Column<(typeof rows)[number]>[] = [
    { head: 'Figure', cell: ([label]) => label },
    { head: first.title, figures: true, cell: ([, of]) => of(first) },
    { head: second.title, figures: true, cell: ([, of]) => of(second) },
  ];
  return (
    <DataTable
      class="both"
      caption="Both at their fair price"
      captionShown
      columns={columns}
      rows={rows}
      keyOf={([label]) => label}
      fitsPhone
    />
  );
}
