import { CsvError, parse } from 'csv-parse/sync';
import { Problem } from '../../problems.js';
import type { ImportProblem } from './contract.js';
import type { ImportListColumn, ImportRow } from './list.js';

export const ROWS_MAX = 5000;
/** Far more than any list has; each one more that is unknown would be a problem of its own. */
const COLUMNS_MAX = 100;
const SEPARATORS = [',', ';', '\t'];

/**
 * Reads CSV by RFC 4180: cells in quotes may hold separators, line breaks and doubled quotes. The separator is the one by which the
 * heading line shows most of the headings that are known. Where the headings can't be gone by, no row is read.
 *
 * @throws Problem too-large beyond ROWS_MAX rows
 */
export function parseRows(
  text: string,
  columns: readonly ImportListColumn[],
): { rows: ImportRow[]; problems: ImportProblem[] } {
  const separator = separatorOf(text, columns);
  const { records, broken } = recordsOf(text, separator);
  if (records.length > ROWS_MAX + 1)
    throw new Problem(
      'too-large',
      `The list has more than ${ROWS_MAX} rows. Split it into lists of at most ${ROWS_MAX}, each with the headings in its first row. Nothing was changed.`,
    );
  const [first = [], ...rest] = records;
  if (first.length > COLUMNS_MAX) return { rows: [], problems: [tooWide(first.length)] };
  const headings = first.map(asHeading);
  const filled = rest.flatMap((cells, i) => (cells.some((cell) => cell.trim()) ? [{ row: i + 2, cells }] : []));
  const wrong = wrongHeadings(headings, first, filled, columns);
  if (wrong.length > 0) return { rows: [], problems: wrong };
  const problems: ImportProblem[] = [];
  const rows = filled.flatMap(({ row, cells }) => {
    if (cells.length === headings.length) return [{ row, cells: byHeading(headings, cells) }];
    problems.push({ row, column: null, detail: wrongLength(cells.length, headings.length, separator) });
    return [];
  });
  if (filled.length === 0 && !broken)
    problems.push({ row: 2, column: null, detail: 'There is nothing under the headings. Fill in a row for each.' });
  return { rows, problems: broken ? [...problems, broken] : problems };
}

/** Upper and lower case, and how many spaces, make no other heading. */
const asHeading = (text: string): string => text.trim().replace(/\s+/g, ' ').toLowerCase().replace('e-mail', 'email'); // both are written

function separatorOf(text: string, columns: readonly ImportListColumn[]): string {
  const known = new Set(columns.map(({ heading }) => heading));
  const shown = SEPARATORS.map((separator) => {
    const [first = []] = recordsOf(text, separator, 1).records;
    return first.filter((heading) => known.has(asHeading(heading))).length;
  });
  return SEPARATORS[shown.indexOf(Math.max(...shown))] ?? ',';
}

/** One record more than the limit tells that there are too many; the rest of a long file isn't read. */
function recordsOf(text: string, separator: string, to = ROWS_MAX + 2) {
  const records: string[][] = [];
  try {
    parse(text, {
      ...{ delimiter: separator, record_delimiter: ['\r\n', '\n', '\r'], relax_column_count: true, to },
      on_record: (record: string[]) => void records.push(record),
    });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return { records, broken: { row: records.length + 1, column: null, detail: brokenQuotes(error) } };
  }
  return { records };
}

function brokenQuotes({ code }: CsvError): string {
  return code === 'CSV_QUOTE_NOT_CLOSED'
    ? 'A cell begins with " and never ends with one. Close it; what follows was not read.'
    : 'There is a " inside a cell. Put the whole cell in quotes and double the " in it: "a ""big"" bowl". What follows was not read.';
}

function wrongHeadings(
  headings: string[],
  asWritten: string[],
  filled: { cells: string[] }[],
  columns: readonly ImportListColumn[],
): ImportProblem[] {
  const known = new Set(columns.map(({ heading }) => heading));
  const list = columns.map(({ heading }) => heading).join(', ');
  const problem = (column: string | null, detail: string) => ({ row: 1, column, detail });
  if (!headings.some((heading) => known.has(heading)))
    return [problem(null, `The first row must have the headings. These are known: ${list}.`)];
  const found = headings.flatMap((heading, i) => {
    const written = asWritten[i]?.trim() ?? '';
    if (heading === '')
      return filled.some(({ cells }) => cells[i]?.trim())
        ? [problem(null, `Column ${i + 1} has no heading. Name it, or empty it.`)]
        : [];
    if (!known.has(heading))
      return [problem(written, `No such heading is known. Leave the column out, or use: ${list}.`)];
    return headings.indexOf(heading) < i
      ? [problem(written, 'This heading is there twice. Remove one of the columns.')]
      : [];
  });
  const missing = columns.filter(({ needed, heading }) => needed && !headings.includes(heading));
  return [...found, ...missing.map(({ heading, means }) => problem(heading, `This column is needed: ${means}`))];
}

const tooWide = (columns: number): ImportProblem => ({
  ...{ row: 1, column: null },
  detail: `The first row has ${columns} headings. Leave out the columns that are not needed: a list has at most ${COLUMNS_MAX}.`,
});

function wrongLength(cells: number, headings: number, separator: string): string {
  const name = { ',': 'a comma', ';': 'a semicolon', '\t': 'a tab' }[separator];
  return `The row has ${cells} cells and there are ${headings} headings. Put a cell with ${name} or a line break in it in quotes.`;
}

const byHeading = (headings: string[], cells: string[]) =>
  Object.fromEntries(headings.map((heading, i) => [heading, cells[i]?.trim() ?? '']));
