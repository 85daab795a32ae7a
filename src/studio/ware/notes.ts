import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { isGone, mayBecome, type Stage, whyNot } from '../../trade/firing/ware-stages.js';
import { findBoard } from './boards.js';
import type { Piece } from './contract.js';
import { getPiecesById, listRawLayers, lockPieces } from './pieces.js';
import { insertEvents, listInTheFire, lockBoard, lossesChanged, type Noted, updatePieces } from './queries.js';

/** As many names as a sentence bears. */
const NAMED_MAX = 5;

/**
 * Notes by hand what became of pieces: of all of them or, where one is not at a stage for it, of none.
 *
 * @param how boardId is where they go; left out, each stays where it is
 */
export async function recordStage(
  tx: Transaction,
  now: Date,
  pieceIds: readonly string[],
  stage: Stage,
  how: { boardId?: string | null | undefined; note: string },
): Promise<Piece[]> {
  if (how.boardId) await findBoard(tx, how.boardId);
  const found = await lockPieces(tx, pieceIds);
  await refuseInTheFire(tx, found);
  const refused = found.filter((piece) => !mayBecome(piece.stage, stage));
  if (refused.length > 0) {
    const reasons = refused.slice(0, NAMED_MAX).map((piece) => `${piece.code} ${whyNot(piece.stage, stage)}`);
    const more = refused.length > NAMED_MAX ? `, and ${refused.length - NAMED_MAX} more` : '';
    throw new Problem('wrong-stage', `${reasons.join('; ')}${more}. Take them out and send the rest again.`, {
      pieceIds: refused.map(({ id }) => id),
    });
  }
  if (stage === 'ready') await refuseUnfired(tx, found);
  const noted = found.map(({ id, boardId }) => ({
    ...{ pieceId: id, stage, boardId: how.boardId === undefined ? boardId : how.boardId, note: how.note },
  }));
  await noteEach(tx, now, noted);
  return getPiecesById(tx, pieceIds);
}

/** What is noted on a board is noted on each piece on it. */
export async function noteOnBoard(
  tx: Transaction,
  now: Date,
  boardId: string,
  { stage, note }: { stage: Stage; note: string },
): Promise<Piece[]> {
  const { name } = await findBoard(tx, boardId);
  const pieceIds = await lockBoard(tx, boardId);
  if (pieceIds.length === 0)
    throw new Problem('wrong-stage', `Nothing is on ${name}, so there is nothing to note. Put ware there first.`);
  return recordStage(tx, now, pieceIds, stage, { note });
}

/**
 * Writes what became of each of several pieces, event and piece alike, and judges nothing: the caller holds their locks and knows
 * that it may (a firing, say, makes stages that no hand can).
 */
export async function noteEach(tx: Transaction, at: Date, noted: readonly Noted[]): Promise<void> {
  lossesChanged(tx);
  const settled = noted.map((one) => (isGone(one.stage) ? { ...one, boardId: null } : one));
  await insertEvents(tx, at, settled);
  await updatePieces(tx, settled);
}

/** Lustre leaves ware fired while it waits for its own firing: nobody may be handed it raw. */
async function refuseUnfired(tx: Transaction, found: readonly Piece[]): Promise<void> {
  const raw = await listRawLayers(
    tx,
    found.map(({ id }) => id),
  );
  const unfired = found.find(({ id }) => raw.get(id)?.some(({ kind }) => kind !== 'wax'));
  if (unfired)
    throw new Problem(
      'wrong-stage',
      `${unfired.code} has a layer on it that was not fired. Fire it or note it as washed off first.`,
      { pieceIds: [unfired.id] },
    );
}

export async function refuseInTheFire(tx: Transaction, found: readonly Piece[]): Promise<void> {
  const firings = await listInTheFire(
    tx,
    found.map(({ id }) => id),
  );
  const hot = found.find(({ id }) => firings.has(id));
  if (hot)
    throw new Problem(
      'in-another-kiln',
      `${hot.code} is in firing ${firings.get(hot.id)}. Note what becomes of it when that is unloaded.`,
    );
}
