import type { ComponentChildren } from 'preact';

export type Column<T> = {
  /** shown above the column, and before each value on a phone; '' where the values speak for themselves */
  head: string;
  cell(row: T): ComponentChildren;
  /** figures, right-aligned so that their units stand under one another */
  figures?: boolean;
  /** left out on a phone */
  spare?: boolean;
  /** in the line of totals */
  total?: ComponentChildren;
};

type Props<T> = {
  /** what the table tells, for whoever hears it */
  caption: string;
  columns: readonly Column<T>[];
  rows: readonly T[];
  keyOf(row: T): string;
  /** the label of the line of totals */
  total?: string;
  /** one of several tables under one another, whose columns are as wide in each */
  grouped?: boolean;
};

/** Rows of like things; on a phone each becomes a card, its first column the card's heading. */
export function DataTable<T>({ caption, columns, rows, keyOf, total, grouped = false }: Props<T>) {
  const classOf = ({ figures, spare }: Column<T>) =>
    [figures && 'figures', spare && 'spare'].filter(Boolean).join(' ') || undefined;
  return (
    <table class={grouped ? 'data-table grouped' : 'data-table'}>
      <caption class="heard">{caption}</caption>
      <thead>
        <tr>
          {columns.map((column) =>
            column.head === '' ? (
              <td key="" class={classOf(column)} /> // an empty heading would be read out as one
            ) : (
              <th key={column.head} scope="col" class={classOf(column)}>
                {column.head}
              </th>
            ),
          )}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={keyOf(row)}>
            {columns.map((column, i) =>
              i === 0 ? (
                <th key={column.head} scope="row" class={classOf(column)}>
                  {column.cell(row)}
                </th>
              ) : (
                <td key={column.head} class={classOf(column)} data-head={column.head}>
                  {column.cell(row)}
                </td>
              ),
            )}
          </tr>
        ))}
      </tbody>
      {total !== undefined && (
        <tfoot>
          <tr>
            {columns.map((column, i) =>
              i === 0 ? (
                <th key={column.head} scope="row">
                  {total}
                </th>
              ) : (
                <td key={column.head} class={classOf(column)} data-head={column.head}>
                  {column.total}
                </td>
              ),
            )}
          </tr>
        </tfoot>
      )}
    </table>
  );
}
