import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { Problem, see } from '../../problems.js';
import { lockFiringRow } from './queries.js';

export const FIRING_INCLUDE = {
  kiln: { select: { name: true } },
  schedule: { select: { name: true, kind: true } },
} as const;
export type FiringRow = Prisma.FiringGetPayload<{ include: typeof FIRING_INCLUDE }>;

/** A firing with its row locked until this transaction ends: who changes its state, load or readings does this first. */
export async function lockFiring(tx: Transaction, id: string): Promise<FiringRow> {
  await lockFiringRow(tx, id);
  return findFiring(tx, id);
}

/** @throws Problem not-found */
export async function findFiring(tx: Transaction, id: string): Promise<FiringRow> {
  const row = await tx.firing.findUnique({ where: { id }, include: FIRING_INCLUDE });
  if (!row)
    throw new Problem(
      'not-found',
      'No firing has this id. Look for it on the page Kilns.',
      see('kilns', '/api/firings'),
    );
  return row;
}

/** Refuses what can't be done at this point of a firing, and says what can. */
export function assertFiringState(
  row: Pick<FiringRow, 'number' | 'state'>,
  states: readonly FiringRow['state'][],
  todo: string,
): void {
  if (!states.includes(row.state))
    throw new Problem('wrong-state', `Firing ${row.number} is ${row.state}. ${todo}`, { state: row.state });
}

/** From when to when a firing that has begun has its kiln, as far as is known by now. */
export function occupies(
  row: Pick<FiringRow, 'startedAt' | 'unloadedAt' | 'plannedFrom' | 'plannedTo'>,
  now: Date,
): { from: Date; to: Date } | null {
  if (row.startedAt === null) return null;
  const asPlanned = row.startedAt.getTime() + row.plannedTo.getTime() - row.plannedFrom.getTime();
  return { from: row.startedAt, to: row.unloadedAt ?? new Date(Math.max(asPlanned, now.getTime())) };
}
