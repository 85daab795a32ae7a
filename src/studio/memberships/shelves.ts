import type { Transaction } from '../../database/transaction.js';
import { fromDate } from '../../database/values.js';
import { Problem, see } from '../../problems.js';
import type { MembershipInFull } from './contract.js';
import { findShelfHolder } from './queries.js';
import { lockOpenMembership, noteEvent } from './rows.js';
import { getMembership } from './to-api.js';

type Holding = { hasShelf: boolean; from: string; to: string | null };

/** Refuses a shelf that is none, that somebody else has then, or that the membership doesn't include. */
export async function assertShelf(
  tx: Transaction,
  boardId: string,
  { hasShelf, from, to }: Holding,
  membershipId: string | null,
): Promise<void> {
  const board = await tx.board.findUnique({ where: { id: boardId } });
  if (!board)
    throw new Problem('not-found', 'No shelf has this id. Look for it on the page Ware.', see('ware', '/api/boards'));
  const wrong = (sentence: string, detail: string) =>
    new Problem('invalid-request', sentence, { errors: [{ pointer: '#/boardId', detail }] });
  if (!hasShelf) throw wrong('This membership includes no shelf. Choose one that does.', 'is not included');
  if (board.kind !== 'shelf') throw wrong(`"${board.name}" is not a shelf. Choose a shelf.`, 'must be a shelf');
  const holder = await findShelfHolder(tx, boardId, { from, to }, membershipId);
  if (holder) throw new Problem('shelf-taken', `${holder} has "${board.name}". Choose another shelf.`);
}

/** Gives a member a shelf, another one, or none. */
export async function giveShelf(
  tx: Transaction,
  now: Date,
  by: { staffMemberId: string },
  id: string,
  boardId: string | null,
): Promise<MembershipInFull> {
  const { row } = await lockOpenMembership(tx, now, id);
  const days = { from: fromDate(row.startsOn), to: row.endsOn && fromDate(row.endsOn) };
  if (boardId !== null) await assertShelf(tx, boardId, { hasShelf: row.hasShelf, ...days }, id);
  if (boardId === row.boardId) return getMembership(tx, now, id);
  const { board } = await tx.membership.update({ where: { id }, data: { boardId }, include: { board: true } });
  await noteEvent(tx, now, by, id, board ? `Shelf "${board.name}" given` : 'No shelf any more');
  return getMembership(tx, now, id);
}
