import { type Formatter, listed } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import { type Column, DataTable } from '../../../ui/data-table';
import { chance, type Item } from './labels';

type Props = { item: Item; formatter: Formatter };

/** The days that a drawing is made of, opened on demand. */
export function DayTable({ item: { name, unit, needs, rows, atMost }, formatter }: Props) {
  const titles = new Map(needs.map(({ courseId, title }) => [courseId, title]));
  const left = (units: number) => (
    <span class={units < 0 ? 'iron' : undefined}>{formatQuantity(units, unit, formatter)}</span>
  );
  const columns: Column<Item['rows'][number]>[] = [
    { head: 'Day', cell: ({ day }) => formatter.date(day) },
    {
      head: 'Used by',
      cell: ({ courseIds }) => listed([...new Set(courseIds.map((id) => titles.get(id) ?? ''))]),
    },
    { head: 'Left, bookings only', figures: true, cell: ({ leftIfBooked }) => left(leftIfBooked) },
    { head: 'Expected', figures: true, cell: ({ leftExpected }) => left(leftExpected) },
    { head: 'Worst 1 in 10', figures: true, cell: ({ leftAtWorst }) => left(leftAtWorst) },
    {
      ...{ head: atMost ? 'Chance of having run out, at most' : 'Chance of having run out', figures: true },
      cell: ({ shortChance }) => chance(shortChance, formatter),
    },
  ];
  return (
    <details>
      <summary>Day by day</summary>
      <DataTable
        caption={`${name}, day by day: what is left at its end`}
        columns={columns}
        rows={rows}
        keyOf={({ day }) => day}
      />
    </details>
  );
}
