import type { ImportProblem } from './contract.js';
import type { ImportEntry } from './list.js';

/** Rows that say again what a row above them says. */
export function refuseDuplicates<T>(entries: readonly ImportEntry<T>[], keyOf: (value: T) => string): ImportProblem[] {
  const first = new Map<string, number>();
  return entries.flatMap(({ row, value }) => {
    const before = first.get(keyOf(value));
    if (before !== undefined)
      return [{ row, column: null, detail: `Row ${before} says the same. Leave one of them out.` }];
    first.set(keyOf(value), row);
    return [];
  });
}

export function alreadyThere<T>(
  entries: readonly ImportEntry<T>[],
  keyOf: (value: T) => string,
  known: ReadonlySet<string>,
  column: string | null,
  detail: string,
): ImportProblem[] {
  return entries.flatMap(({ row, value }) => (known.has(keyOf(value)) ? [{ row, column, detail }] : []));
}
