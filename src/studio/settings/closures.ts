import { lockRow } from '../../database/lock-row.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDate, toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { Problem, see } from '../../problems.js';
import type { Closure, NewClosure } from './closures-contract.js';

type Row = { id: string; name: string; fromDay: Date; toDay: Date };

const shown = ({ id, name, fromDay, toDay }: Row): Closure => ({
  ...{ id, name, from: fromDate(fromDay), to: fromDate(toDay) },
});
const rowOf = ({ name, from, to }: NewClosure) => ({ name, fromDay: toDate(from), toDay: toDate(to) });

export async function addClosure(tx: Transaction, wanted: NewClosure): Promise<Closure> {
  return shown(await tx.closure.create({ data: { id: newId(), ...rowOf(wanted) } }));
}

/** By their first day. */
export async function listClosures(tx: Transaction): Promise<Closure[]> {
  return (await tx.closure.findMany({ orderBy: [{ fromDay: 'asc' }, { id: 'asc' }] })).map(shown);
}

/** Those that have one of the days from the first to the last. */
export async function listClosuresOn(tx: Transaction, from: string, to: string): Promise<Closure[]> {
  const rows = await tx.closure.findMany({
    where: { toDay: { gte: toDate(from) }, fromDay: { lte: toDate(to) } },
    orderBy: [{ fromDay: 'asc' }, { id: 'asc' }],
  });
  return rows.map(shown);
}

export async function getClosure(tx: Transaction, id: string): Promise<Closure> {
  const row = await tx.closure.findUnique({ where: { id } });
  if (!row)
    throw new Problem(
      'not-found',
      'No closed days have this id. Look for them on the page Studio.',
      see('studio', '/api/closures'),
    );
  return shown(row);
}

export async function lockClosure(tx: Transaction, id: string): Promise<Closure> {
  await lockRow(tx, 'closure', id);
  return getClosure(tx, id);
}

/** What is planned on these days already stays there. */
export async function changeClosure(tx: Transaction, id: string, wanted: NewClosure): Promise<Closure> {
  return shown(await tx.closure.update({ where: { id }, data: rowOf(wanted) }));
}

export async function removeClosure(tx: Transaction, id: string): Promise<void> {
  await tx.closure.delete({ where: { id } });
}
