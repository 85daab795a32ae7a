import { oneAtATime } from '../../database/one-at-a-time.js';
import type { Transaction } from '../../database/transaction.js';

/** The number of the last tile; nobody else makes one until this transaction ends, or two would bear the same. */
export async function lockTileNumber(tx: Transaction): Promise<number> {
  await oneAtATime(tx, 'numbering tiles');
  const { _max } = await tx.testTile.aggregate({ _max: { number: true } });
  return _max.number ?? 0;
}

/** Locks a tile, so that of two who write on it at once one sees what the other wrote. */
export async function lockTile(tx: Transaction, id: string): Promise<void> {
  await tx.$queryRaw`SELECT 1 FROM test_tile WHERE id = ${id}::uuid FOR UPDATE`;
}
