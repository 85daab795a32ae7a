import { type Column, DataTable } from '../../../ui/data-table';
import type { Choice } from './import-kinds';

const COLUMNS: readonly Column<Choice['columns'][number]>[] = [
  {
    head: 'Heading',
    cell: ({ heading, needed }) => (
      <>
        {heading}
        {needed && <small> needed</small>}
      </>
    ),
  },
  { head: 'What it means', cell: ({ means }) => means },
  { head: 'For example', cell: ({ example }) => example, toneOf: () => 'quiet' },
];

/** How a list must look: its headings, what each means, and an empty one to fill in. */
export function Headings({ choice: { kind, columns, rowsMax } }: { choice: Choice }) {
  const needed = columns.filter((column) => column.needed).map(({ heading }) => heading);
  return (
    <details class="no-paper">
      <summary>
        <b>How the list must look</b>
      </summary>
      <p>
        The first row holds the headings, in any order; {needed.join(', ')} must be there. A comma, a semicolon or a tab
        is between cells. Numbers have one comma or point before their decimals and none between thousands; days are
        written year-month-day. At most {rowsMax} rows go at once.
      </p>
      <p>
        <a href={`/api/imports/${kind}.csv`} download class="touch">
          Download a blank list
        </a>
      </p>
      <DataTable
        class="rows"
        caption="The headings"
        captionShown
        columns={COLUMNS}
        rows={columns}
        keyOf={({ heading }) => heading}
      />
    </details>
  );
}
