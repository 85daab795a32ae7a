import { Decimal, roundKeepingTotal } from '../../../../trade/money/money.js';
import { type Column, DataTable } from '../../../ui/data-table';
import { Disclosure } from '../../../ui/disclosure';
import type { Words } from './labels';
import type { Calculation } from './recalculate';

type Line = {
  key: string;
  label: string;
  quantity: string;
  unit: string;
  rateMinor: string;
  amountMinor: string;
  from: string;
  assumed: boolean;
};

/** The cost lines, in tables that add up before one's eyes: what each student costs, and what the course costs however many come. */
export function CostTables({ calculation: { result, inputs }, words }: { calculation: Calculation; words: Words }) {
  const of = (basis: string) =>
    result.lines
      .filter((line) => line.basis === basis)
      .map((line) => ({ ...line, from: line.source.detail, assumed: line.source.kind === 'assumption' }));
  const hours = (key: string, count: string): Line => ({
    ...{ key, label: 'Your time', quantity: count, unit: 'h', rateMinor: String(inputs.wagePerHourMinor) },
    amountMinor: new Decimal(count).times(inputs.wagePerHourMinor).toFixed(),
    ...{ from: 'What your hour is worth, from the settings; the hours are the plan’s.', assumed: false },
  });
  const perCourse = [...of('per-course'), hours('hours', inputs.ownerHours)];
  const perStudent = [...of('per-student'), hours('hours-each', inputs.ownerHoursPerStudent)];
  return (
    <Disclosure
      late
      title="What it costs"
      note={`${words.moneyInText(sumOf(perStudent))} for each student, ${words.moneyInText(sumOf(perCourse))} for the course`}
    >
      <LineTable caption="What each student costs" lines={perStudent} words={words} />
      <LineTable caption="What the course costs, however many come" lines={perCourse} words={words} />
    </Disclosure>
  );
}

const sumOf = (lines: readonly Line[]): number =>
  roundKeepingTotal(lines.map(({ amountMinor }) => new Decimal(amountMinor))).totalMinor;

export function LineTable({ caption, lines, words }: { caption: string; lines: Line[]; words: Words }) {
  const { totalMinor, partsMinor } = roundKeepingTotal(lines.map((line) => new Decimal(line.amountMinor)));
  const rows = lines.map((line, i) => ({ ...line, partMinor: partsMinor[i] ?? 0 }));
  const columns: Column<(typeof rows)[number]>[] = [
    { head: 'What', cell: ({ label }) => label },
    { head: 'Quantity', figures: true, cell: ({ quantity, unit }) => words.quantity(quantity, unit) },
    { head: '× rate', figures: true, cell: ({ rateMinor }) => words.rate(rateMinor) },
    {
      ...{ head: '= amount', figures: true, total: words.money(totalMinor) },
      cell: ({ partMinor }) => words.money(partMinor),
    },
    {
      head: 'Where the rate comes from',
      cell: ({ assumed, from }) => (
        <small>
          {assumed && <b class="amber">Assumption. </b>}
          {from}
        </small>
      ),
    },
  ];
  return (
    <section>
      <DataTable
        class="lines"
        caption={caption}
        captionShown
        columns={columns}
        rows={rows}
        keyOf={({ key }) => key}
        total="Total"
        grouped
      />
    </section>
  );
}
