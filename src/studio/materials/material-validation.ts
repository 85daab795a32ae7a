import type { Transaction } from '../../database/transaction.js';
import type { NewMaterial } from './contract.js';

const EARLIEST = '2000-01-01';

/** What is wrong with the day of something that has happened; null: nothing. `today` is the studio's. */
export const dayFault = (day: string, today: string): string | null =>
  day <= today && day >= EARLIEST ? null : `must be a day from ${EARLIEST} to today, ${today}`;

/** The places in a material where a sheet or a statement bears a day that can't be. */
export function wrongDays(wanted: NewMaterial, today: string): { field: string; day: string; detail: string }[] {
  return (['manufacturerStatement', 'hazardNote'] as const).flatMap((note) => {
    const day = wanted[note]?.statedOn;
    const detail = day === undefined ? null : dayFault(day, today);
    return day === undefined || detail === null ? [] : [{ field: `${note}.statedOn`, day, detail }];
  });
}

/** Which of these names are borne by materials other than `id`. */
export async function listTakenNames(tx: Transaction, names: readonly string[], id?: string): Promise<Set<string>> {
  const rows = await tx.material.findMany({
    where: { name: { in: [...names] }, ...(id !== undefined && { id: { not: id } }) },
    select: { name: true },
  });
  return new Set(rows.map(({ name }) => name));
}
