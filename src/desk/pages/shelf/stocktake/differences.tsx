import type { Formatter } from '../../../format/formatter';
import { type Column, DataTable } from '../../../ui/data-table';
import { exactly, type Material, worthOfDifference } from './labels';
import type { Told } from './queries';
import type { Done } from './unsaved-counts';

type Props = { materials: Material[]; done: Record<string, Done>; values: Told['values']; formatter: Formatter };

/** What today's count found to be otherwise than the books said, with its worth for those who may see money. */
export function Differences({ materials, done, values, formatter }: Props) {
  const lines = materials.flatMap((material) => {
    const count = done[material.id];
    if (!count || count.counted === count.inBooks) return [];
    const difference = count.counted - count.inBooks;
    return [{ material, count, difference, worth: worthOfDifference(difference, values?.get(material.id)) }];
  });
  if (lines.length === 0) return null;
  const columns: Column<(typeof lines)[number]>[] = [
    { head: 'Material', cell: ({ material }) => material.name },
    { head: 'Why', cell: ({ count }) => count.explanation },
    {
      ...{ head: 'Difference', figures: true },
      cell: ({ material, difference }) => signed(difference, exactly(Math.abs(difference), material.unit, formatter)),
    },
  ];
  const sum = lines.reduce((all, { worth }) => all + (worth ?? 0), 0);
  const inMoney = (minor: number) => signed(minor, formatter.money(Math.abs(minor)));
  if (values)
    columns.push({
      ...{ head: 'Worth', figures: true, total: inMoney(sum) },
      cell: ({ worth }) => (worth === null ? 'not known' : inMoney(worth)),
    });
  return (
    <DataTable
      class="differences no-paper"
      caption="Differences from recorded stock"
      captionShown
      columns={columns}
      rows={lines}
      keyOf={({ material }) => material.id}
      total={values ? 'Total, by what a pack cost lately' : undefined}
    />
  );
}

const signed = (number: number, text: string) => (number < 0 ? `−${text}` : number > 0 ? `+${text}` : text);
