import { lockRow } from '../../database/lock-row.js';
import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem, see } from '../../problems.js';
import type { Board, NewBoard } from './contract.js';

export async function addBoard(tx: Transaction, wanted: NewBoard): Promise<Board> {
  if ((await tx.board.count({ where: { name: wanted.name } })) > 0)
    throw new Problem('already-there', `There is a board named "${wanted.name}" already. Choose another name.`);
  return { ...(await tx.board.create({ data: { id: newId(), ...wanted } })), pieces: 0 };
}

export async function listBoards(tx: Transaction): Promise<Board[]> {
  const rows = await tx.board.findMany({ orderBy: { name: 'asc' } });
  const pieces = await tx.piece.groupBy({ by: ['boardId'], where: { boardId: { not: null } }, _count: true });
  const countOf = new Map(pieces.map(({ boardId, _count }) => [boardId, _count]));
  return rows.map((board) => ({ ...board, pieces: countOf.get(board.id) ?? 0 }));
}

/** A board by its id, refused with a sentence where there is none, without how much is on it. */
export async function findBoard(tx: Transaction, id: string): Promise<Omit<Board, 'pieces'>> {
  const row = await tx.board.findUnique({ where: { id } });
  if (!row)
    throw new Problem('not-found', 'No board has this id. Look for it on the page Ware.', see('ware', '/api/boards'));
  return row;
}

export async function getBoard(tx: Transaction, id: string): Promise<Board> {
  return { ...(await findBoard(tx, id)), pieces: await tx.piece.count({ where: { boardId: id } }) };
}

export async function lockBoardToChange(tx: Transaction, id: string): Promise<Board> {
  await lockRow(tx, 'board', id);
  return getBoard(tx, id);
}

export async function changeBoard(tx: Transaction, id: string, wanted: NewBoard): Promise<Board> {
  if ((await tx.board.count({ where: { name: wanted.name, id: { not: id } } })) > 0)
    throw new Problem('already-there', `There is a board named "${wanted.name}" already. Choose another name.`);
  await tx.board.update({ where: { id }, data: wanted });
  return getBoard(tx, id);
}

export async function removeBoard(tx: Transaction, id: string): Promise<void> {
  const { name, pieces } = await getBoard(tx, id);
  if (pieces > 0 || (await tx.pieceEvent.count({ where: { boardId: id } })) > 0)
    throw new Problem('still-needed', `Ware is or was on "${name}", so it stays. Rename it if you no longer have it.`);
  await tx.board.delete({ where: { id } });
}
