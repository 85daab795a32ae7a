import { Prisma } from '../../database/generated/client.js';
import { oneAtATime } from '../../database/one-at-a-time.js';
import type { Transaction } from '../../database/transaction.js';

/**
 * The number of the last piece, with all other intakes kept waiting until this transaction ends: two that count at the same
 * time would make the same codes. Take it last.
 */
export async function lockSerial(tx: Transaction): Promise<number> {
  await oneAtATime(tx, 'numbering pieces');
  const { _max } = await tx.piece.aggregate({ _max: { serial: true } });
  return _max.serial ?? 0;
}

/** Locks pieces until the transaction ends, in id order, so that two who note something of the same ware can't wait for each other. */
export async function lockPieceRows(tx: Transaction, pieceIds: readonly string[]): Promise<void> {
  if (pieceIds.length === 0) return;
  const ids = Prisma.join(pieceIds.map((id) => Prisma.sql`${id}::uuid`));
  await tx.$queryRaw`SELECT id FROM piece WHERE id IN (${ids}) ORDER BY id FOR UPDATE`;
}

/** Locks all that stands on a board, in id order. @returns their ids */
export async function lockBoard(tx: Transaction, boardId: string): Promise<string[]> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    SELECT id::text FROM piece WHERE board_id = ${boardId}::uuid ORDER BY id FOR UPDATE`;
  return rows.map(({ id }) => id);
}

/** Pieces that are in a kiln that fires, each with its firing's number. Reads what a later noun wrote, since the fire stops every noun's hands. */
export async function inTheFire(tx: Transaction, pieceIds: readonly string[]): Promise<Map<string, number>> {
  const rows = await tx.placement.findMany({
    where: { pieceId: { in: [...pieceIds] }, firing: { state: 'firing' } },
    select: { pieceId: true, firing: { select: { number: true } } },
  });
  return new Map(rows.map(({ pieceId, firing }) => [pieceId, firing.number]));
}

/** How many firings each of these pieces has come out of; a piece that never was in one is left out. */
export async function timesFired(tx: Transaction, pieceIds: readonly string[]): Promise<Map<string, number>> {
  const rows = await tx.placement.groupBy({
    by: ['pieceId'],
    where: { pieceId: { in: [...pieceIds] }, outcome: { not: null } },
    _count: true,
  });
  return new Map(rows.map(({ pieceId, _count }) => [pieceId, _count]));
}

/** Which of these pieces have been through a glaze or lustre firing, whatever it made of them. */
export async function glazeFired(tx: Transaction, pieceIds: readonly string[]): Promise<Set<string>> {
  const rows = await tx.placement.findMany({
    where: {
      pieceId: { in: [...pieceIds] },
      outcome: { not: null },
      firing: { schedule: { kind: { in: ['glaze', 'lustre'] } } },
    },
    select: { pieceId: true },
  });
  return new Set(rows.map(({ pieceId }) => pieceId));
}
