import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { groupBy } from '../../trade/group-by.js';
import { material } from '../materials/service.js';
import { board } from './boards.js';
import type { NewLayers, Piece, PieceStory } from './contract.js';
import { layersOf, lockPieces, pieceStory, pieces } from './pieces.js';
import { inTheFire, lockBoard } from './queries.js';
import { afterGlazing, isGone, mayBecome, type Stage, whyNot } from './stages.js';

/** As many names as a sentence bears. */
const NAMED_MAX = 5;

export type Noted = { pieceId: string; stage: Stage; boardId: string | null; note: string };

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
  if (how.boardId) await board(tx, how.boardId);
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
  const noted = found.map(({ id, boardId }) => ({
    ...{ pieceId: id, stage, boardId: how.boardId === undefined ? boardId : how.boardId, note: how.note },
  }));
  await noteEach(tx, now, noted);
  return pieces(tx, pieceIds);
}

/** What is noted on a board is noted on each piece on it. */
export async function noteOnBoard(
  tx: Transaction,
  now: Date,
  boardId: string,
  { stage, note }: { stage: Stage; note: string },
): Promise<Piece[]> {
  const { name } = await board(tx, boardId);
  const pieceIds = await lockBoard(tx, boardId);
  if (pieceIds.length === 0)
    throw new Problem('wrong-stage', `Nothing stands on ${name}, so nothing can be noted of it. Put ware there first.`);
  return recordStage(tx, now, pieceIds, stage, { note });
}

/** Records layers of glaze or slip on top of what a piece bears. Raw glaze makes glazed ware of it, also where it was fired before. */
export async function addLayers(tx: Transaction, now: Date, pieceId: string, wanted: NewLayers): Promise<PieceStory> {
  await addLayersToEach(tx, now, [pieceId], wanted);
  return pieceStory(tx, pieceId);
}

/** Records the same layers on several pieces, as when a maker glazes a board: on all of them or, where one can't take them, on none. */
export async function addLayersToEach(
  tx: Transaction,
  now: Date,
  pieceIds: readonly string[],
  { layers, note }: NewLayers,
): Promise<void> {
  const found = await lockPieces(tx, pieceIds);
  await refuseInTheFire(tx, found);
  const gone = found.find((piece) => isGone(piece.stage));
  if (gone) throw new Problem('wrong-stage', `${gone.code} is ${gone.stage}: nothing is glazed there any more.`);
  const applied = [];
  for (const layer of layers) applied.push({ layer, material: await material(tx, layer.materialId) });
  const wares = applied.map((one) => one.material);
  const wrong = wares.find(({ kind }) => kind !== 'glaze' && kind !== 'slip');
  if (wrong) throw new Problem('invalid-request', `${wrong.name} is ${wrong.kind}, no glaze or slip. Choose another.`);
  const raw = found.find((piece) => piece.stage === 'greenware' || piece.stage === 'dry');
  if (raw && wares.some(({ kind }) => kind === 'glaze'))
    throw new Problem('wrong-stage', `${raw.code} is ${raw.stage}: glaze goes on bisque. Only slip can go on it now.`);

  const before = await layersOf(tx, pieceIds);
  await tx.pieceGlaze.createMany({
    data: pieceIds.flatMap((pieceId) => {
      const last = before.get(pieceId)?.length ?? 0;
      return layers.map((layer, i) => ({ pieceId, ordinal: last + 1 + i, ...layer }));
    }),
  });
  const coats = applied.map(
    ({ layer, material: { name } }) => `${name}, ${layer.coats} ${layer.coats === 1 ? 'coat' : 'coats'}`,
  );
  const noted = [...coats, ...(note ? [note] : [])].join('; ');
  await noteEach(
    tx,
    now,
    found.map(({ id, stage, boardId }) => ({ pieceId: id, stage: afterGlazing(stage, wares), boardId, note: noted })),
  );
}

/**
 * Writes what became of each of several pieces, event and piece alike, and judges nothing: the caller holds their locks and knows
 * that it may (a firing, say, makes stages that no hand can).
 */
export async function noteEach(tx: Transaction, at: Date, noted: readonly Noted[]): Promise<void> {
  const settled = noted.map((one) => (isGone(one.stage) ? { ...one, boardId: null } : one));
  await tx.pieceEvent.createMany({ data: settled.map((one) => ({ id: newId(), at, ...one })) });
  // those that end alike are written by one statement
  for (const same of groupBy(settled, ({ stage, boardId }) => `${stage} ${boardId}`).values()) {
    const { stage, boardId } = same[0] as Noted;
    await tx.piece.updateMany({ where: { id: { in: same.map((one) => one.pieceId) } }, data: { stage, boardId } });
  }
}

async function refuseInTheFire(tx: Transaction, found: readonly Piece[]): Promise<void> {
  const firings = await inTheFire(
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
