import type { ComponentChildren } from 'preact';

/** A colour that goes with a word; `none` is for a zero that nobody looks for, left out on a phone. */
export type Tone = 'iron' | 'amber' | 'celadon' | 'quiet' | 'none';

export type Column<T> = {
  /** shown above the column, and before each value on a phone; '' where the values speak for themselves */
  head: string;
  /** the head is heard but not seen: what stands under it are buttons */
  headHeard?: boolean;
  /** in the first column: the head is said in a card's heading too, since a number alone says nothing */
  headInCard?: boolean;
  cell(row: T): ComponentChildren;
  /** figures, right-aligned so that their units stand under one another */
  figures?: boolean;
  /** left out on a phone */
  spare?: boolean;
  toneOf?(row: T): Tone | undefined;
  /** in the line of totals, whose label reaches up to the first of them */
  total?: ComponentChildren;
};

type Props<T> = {
  /** what the table tells, for whoever hears it */
  caption: ComponentChildren;
  /** the caption is the table's heading, for those who see it too */
  captionShown?: boolean;
  columns: readonly Column<T>[];
  rows: readonly T[];
  keyOf(row: T): string;
  /** what is opened under a row: its lines, or a form */
  detailOf?(row: T): ComponentChildren;
  /** the label of the line of totals */
  total?: string;
  /** one of several tables under one another, whose columns are as wide in each */
  grouped?: boolean;
  /** a grid of few and short figures: it stays a table on a phone */
  fitsPhone?: boolean;
  /** where a link leads */
  id?: string;
  /** what its page's own styles know it by */
  class?: string;
};

/** Rows of like things; on a phone each becomes a card, its first column the card's heading. */
export function DataTable<T>({ caption, captionShown, columns, rows, keyOf, detailOf, total, ...look }: Props<T>) {
  const { grouped, fitsPhone, id, class: ownClass } = look;
  return (
    <table id={id} class={namesOf('data-table', ownClass, grouped && 'grouped', !fitsPhone && 'cards')}>
      <caption class={captionShown ? undefined : 'heard'}>{caption}</caption>
      <thead>
        <tr>
          {columns.map((column) => (
            <Head key={column.head} column={column} />
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <Row key={keyOf(row)} {...{ row, columns, detailOf }} />
        ))}
      </tbody>
      {total !== undefined && <Totals label={total} columns={columns} />}
    </table>
  );
}

const namesOf = (...names: (string | false | undefined)[]): string | undefined =>
  names.filter(Boolean).join(' ') || undefined;

function Head<T>({ column: { head, headHeard, figures, spare } }: { column: Column<T> }) {
  const names = namesOf(figures && 'figures', spare && 'spare');
  if (head === '') return <td class={names} />; // an empty heading would be read out as one
  return (
    <th scope="col" class={names}>
      {headHeard ? <span class="heard">{head}</span> : head}
    </th>
  );
}

function Row<T>({ row, columns, detailOf }: { row: T } & Pick<Props<T>, 'columns' | 'detailOf'>) {
  const detail = detailOf?.(row);
  return (
    <>
      <tr>
        {columns.map((column, i) => {
          const names = namesOf(column.figures && 'figures', column.spare && 'spare', column.toneOf?.(row));
          return i === 0 ? (
            <th key={column.head} scope="row" class={names} data-head={column.headInCard ? column.head : undefined}>
              {column.cell(row)}
            </th>
          ) : (
            <Cell key={column.head} names={names} column={column}>
              {column.cell(row)}
            </Cell>
          );
        })}
      </tr>
      {detail && (
        <tr class="opened">
          <td colSpan={columns.length}>{detail}</td>
        </tr>
      )}
    </>
  );
}

type CellProps<T> = { column: Column<T>; names: string | undefined; children: ComponentChildren };

/** What is in a cell is in one box, so that on a phone it keeps together after its head. */
function Cell<T>({ column: { head, headHeard }, names, children }: CellProps<T>) {
  const isEmpty = children === undefined || children === null || children === false || children === '';
  return (
    <td class={names} data-head={headHeard ? '' : head}>
      {!isEmpty && <div>{children}</div>}
    </td>
  );
}

function Totals<T>({ label, columns }: { label: string } & Pick<Props<T>, 'columns'>) {
  const first = columns.findIndex(({ total }) => total !== undefined);
  const reach = first < 1 ? columns.length : first;
  return (
    <tfoot>
      <tr>
        <th scope="row" colSpan={reach}>
          {label}
        </th>
        {columns.slice(reach).map((column) => (
          <Cell key={column.head} names={namesOf(column.figures && 'figures', column.spare && 'spare')} column={column}>
            {column.total}
          </Cell>
        ))}
      </tr>
    </tfoot>
  );
}
