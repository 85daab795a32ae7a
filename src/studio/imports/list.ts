import type { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
import type { Right } from '../../http/rights.js';
import type { ImportProblem } from './contract.js';

/** What cells are read against: the studio's currency, and the materials that a list names. */
export interface Known {
  currency: string;
  materials: Map<string, { id: string; unit: 'g' | 'ml' | 'piece' }>;
}

/** A row that holds something: its number in the spreadsheet, and its cells by heading, trimmed. */
export interface ImportRow {
  row: number;
  cells: Record<string, string>;
}

export interface ImportListColumn {
  heading: string;
  means: string;
  needed: boolean;
  example: string;
  /** Where it stands in the contract's body, such as "firingRange.fromC". */
  field: string;
  /** A filled cell as the contract takes it. @throws RangeError, whose message says what to write */
  read(text: string, cells: ImportRow['cells'], known: Known): unknown;
}

/** A row that was read, as the service takes it. */
export interface ImportEntry<T> {
  row: number;
  value: T;
}

/** What can be brought: its columns, the contract that each row must meet, and the services that take it. */
export interface ImportList<T> {
  kind: string;
  summary: string;
  right: Right;
  columns: readonly ImportListColumn[];
  contract: z.ZodType<T>;
  /** The contract's body from the fields of the cells that were filled. */
  body(fields: Record<string, unknown>): unknown;
  /** What the services would refuse, or what is there already; of entries that each meet the contract. */
  unfit(tx: Transaction, now: Date, entries: readonly ImportEntry<T>[]): Promise<ImportProblem[]>;
  inWords(value: T, cells: ImportRow['cells'], currency: string): string;
  add(tx: Transaction, now: Date, values: readonly T[]): Promise<void>;
}

/** No field takes more; what is longer is not read at all, since some readers take the square of its length. */
const CELL_CHARACTERS_MAX = 2000;

/** Reads a row's cells, and holds what they say against the contract. */
export function entryOf<T>(
  list: ImportList<T>,
  { row, cells }: ImportRow,
  known: Known,
): { value?: T; problems: ImportProblem[] } {
  const problems: ImportProblem[] = [];
  const say = (column: string | null, detail: string) => void problems.push({ row, column, detail });
  const fields: Record<string, unknown> = {};
  for (const { heading, field, needed, example, read } of list.columns) {
    const cell = cells[heading] ?? '';
    if (cell === '' && needed) say(heading, `is empty and needed. Write something such as ${example}.`);
    if (cell.length > CELL_CHARACTERS_MAX) say(heading, `must have at most ${CELL_CHARACTERS_MAX} characters.`);
    if (cell === '' || cell.length > CELL_CHARACTERS_MAX) continue;
    try {
      fields[field] = read(cell, cells, known);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      say(heading, error.message);
    }
  }
  if (problems.length > 0) return { problems };
  const met = list.contract.safeParse(list.body(fields));
  if (met.success) return { value: met.data, problems };
  for (const issue of met.error.issues) {
    const column = columnOf(list.columns, issue.path.join('.'));
    const empty = column !== undefined && !cells[column.heading];
    if (empty) say(column.heading, `is empty, and needed here. Write something such as ${column.example}.`);
    else say(column?.heading ?? null, `${issue.message.replace(/\.$/, '')}.`);
  }
  return { problems };
}

/** The column of a place in the body; of a place above columns, the first of them. */
const columnOf = (columns: readonly ImportListColumn[], path: string) =>
  columns.find(({ field }) => field === path || path.startsWith(`${field}.`)) ??
  columns.find(({ field }) => path !== '' && field.startsWith(`${path}.`));
