import { oneAtATime } from '../../database/one-at-a-time.js';
import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { getStudio } from '../settings/service.js';
import type { ImportCheck, ImportProblem } from './contract.js';
import { parseRows } from './csv-table.js';
import { entryOf, type ImportEntry, type ImportList, type Known } from './list.js';

/** Reads a list and says what it would add and every problem in it. Nothing is changed. */
export async function checkImport<T>(
  tx: Transaction,
  now: Date,
  list: ImportList<T>,
  text: string,
): Promise<ImportCheck> {
  const { entries: _, ...told } = await looked(tx, now, list, text);
  return told;
}

/**
 * Brings a list, all of it or nothing: each row meets the contract and the services that the API itself goes by.
 * @throws Problem invalid-request with every problem, as `check` tells them
 */
export async function importRows<T>(
  tx: Transaction,
  now: Date,
  list: ImportList<T>,
  text: string,
): Promise<{ added: number }> {
  await oneAtATime(tx, 'bringing a list'); // the same list brought twice at once would stand in the books twice
  const { entries, problems } = await looked(tx, now, list, text);
  if (problems.length > 0) {
    const rows = new Set(problems.map(({ row }) => row)).size;
    const where = rows === 1 ? `Row ${problems[0]?.row} isn't right` : `${rows} rows aren't right`;
    const errors = problems.map((one) => ({ pointer: `#/${one.row}/${one.column ?? ''}`, ...one }));
    throw new Problem('invalid-request', `${where}. Nothing was changed: correct the list and import it again.`, {
      errors,
    });
  }
  await list.add(
    tx,
    now,
    entries.map(({ value }) => value),
  );
  return { added: entries.length };
}

async function looked<T>(tx: Transaction, now: Date, list: ImportList<T>, text: string) {
  const { currency } = await getStudio(tx);
  const { rows, problems } = parseRows(text, list.columns);
  const known: Known = {
    currency,
    materials: await materialsNamed(
      tx,
      rows.map(({ cells }) => cells.material ?? ''),
    ),
  };
  const entries: ImportEntry<T>[] = [];
  const adds: ImportCheck['adds'] = [];
  const found: ImportProblem[] = [...problems];
  for (const row of rows) {
    const { value, problems: those } = entryOf(list, row, known);
    found.push(...those);
    if (value === undefined) continue;
    entries.push({ row: row.row, value });
    adds.push({ row: row.row, what: list.inWords(value, row.cells, currency) });
  }
  found.push(...(await list.unfit(tx, now, entries)));
  return { entries, rows: rows.length, adds, problems: found.sort((a, b) => a.row - b.row) };
}

async function materialsNamed(tx: Transaction, names: readonly string[]): Promise<Known['materials']> {
  const named = [...new Set(names)].filter((name) => name !== '');
  if (named.length === 0) return new Map();
  const rows = await tx.material.findMany({
    where: { name: { in: named } },
    select: { id: true, name: true, unit: true },
  });
  return new Map(rows.map(({ name, ...rest }) => [name, rest]));
}
