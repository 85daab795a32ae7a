import { count } from '../../../format/formatter';
import { type Column, DataTable } from '../../../ui/data-table';
import type { Checked, Kind } from './import-kinds';

const SHOWN_MAX = 200;

const PROBLEM_COLUMNS: readonly Column<Checked['problems'][number]>[] = [
  { head: 'Row', headInCard: true, cell: ({ row }) => row },
  { head: 'Column', cell: ({ column }) => column ?? 'the row' },
  { head: 'What to do', cell: ({ detail }) => detail },
];

/** The problems of a list by row; where there are none, what would be added. */
export function Told({ checked: { problems, adds }, kind }: { checked: Checked; kind: Kind }) {
  if (problems.length === 0) return <Adds adds={adds} kind={kind} />;
  return (
    <>
      <DataTable
        class="rows"
        caption="What isn’t right, row by row; the headings are row 1"
        captionShown
        columns={PROBLEM_COLUMNS}
        rows={problems.slice(0, SHOWN_MAX)}
        keyOf={(problem) => String(problems.indexOf(problem))}
      />
      <More than={problems.length} what="problem" />
    </>
  );
}

function Adds({ adds, kind }: { adds: Checked['adds']; kind: Kind }) {
  const columns: Column<Checked['adds'][number]>[] = [
    { head: 'Row', cell: ({ row }) => row },
    { head: { people: 'Person', materials: 'Material', lots: 'Lot' }[kind], cell: ({ what }) => what },
  ];
  return (
    <>
      <DataTable
        class="rows"
        caption="What would be added"
        captionShown
        columns={columns}
        rows={adds.slice(0, SHOWN_MAX)}
        keyOf={({ row }) => String(row)}
        fitsPhone
      />
      <More than={adds.length} what="row" />
    </>
  );
}

const More = ({ than, what }: { than: number; what: string }) =>
  than > SHOWN_MAX ? <p class="quiet">And {count(than - SHOWN_MAX, `${what} more`, `${what}s more`)}.</p> : null;
