import { stringify } from 'csv-stringify/sync';

/**
 * Rows as RFC 4180 text in UTF-8. A spreadsheet would run a name that begins like a formula, so such text is marked as text; and it
 * would read "Bézier" wrongly without the byte order mark.
 */
export function csvOf(rows: readonly (readonly unknown[])[]): string {
  return stringify([...rows], {
    bom: true,
    record_delimiter: 'windows',
    quoted_string: true, // a separator of another country, inside a name, begins no cell
    escape_formulas: true,
  });
}
