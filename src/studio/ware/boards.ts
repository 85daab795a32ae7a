import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import type { Board, NewBoard } from './contract.js';

export async function addBoard(tx: Transaction, wanted: NewBoard): Promise<Board> {
  if ((await tx.board.count({ where: { name: wanted.name } })) > 0)
    throw new Problem('already-there', `There is a board named "${wanted.name}" already. Choose another name.`);
  return { ...(await tx.board.create({ data: { id: newId(), ...wanted } })), pieces: 0 };
}

export async function listBoards(tx: Transaction): Promise<Board[]> {
  const rows = await tx.board.findMany({ orderBy: { name: 'asc' }, include: { _count: { select: { pieces: true } } } });
  return rows.map(({ _count, ...board }) => ({ ...board, pieces: _count.pieces }));
}

/** A board by its id, refused with a sentence where there is none. */
export async function getBoard(tx: Transaction, id: string): Promise<{ id: string; name: string }> {
  const row = await tx.board.findUnique({ where: { id } });
  if (!row) throw new Problem('not-found', 'No board has this id. Look it up under /api/boards.');
  return row;
}
