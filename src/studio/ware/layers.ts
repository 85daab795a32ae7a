import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { isGone, isLustre, isRaw, stageInWords, stageOnceCoated } from '../../trade/firing/ware-stages.js';
import type { Material } from '../materials/contract.js';
import { isCoating, kindInWords } from '../materials/material-kinds.js';
import { getMaterial } from '../materials/service.js';
import { findBoard } from './boards.js';
import type { NewLayers, Piece, PieceStory } from './contract.js';
import { noteEach, refuseInTheFire } from './notes.js';
import { getPieceStory, getPiecesById, listRawLayers, lockPieces } from './pieces.js';
import { getTimesFired, listGlazeFired } from './queries.js';

/** Records what was put on a piece, on top of what lies on it. Raw glaze makes glazed ware of it, also where it was fired before. */
export async function addLayers(tx: Transaction, now: Date, pieceId: string, wanted: NewLayers): Promise<PieceStory> {
  await addLayersToEach(tx, now, [pieceId], wanted);
  return getPieceStory(tx, pieceId);
}

/** Records the same layers on several pieces, as when a maker glazes a board: on all of them or, where one can't take them, on none. */
export async function addLayersToEach(
  tx: Transaction,
  now: Date,
  pieceIds: readonly string[],
  { layers, note, singleFiring }: NewLayers,
): Promise<void> {
  const found = await lockPieces(tx, pieceIds);
  await refuseInTheFire(tx, found);
  const applied = [];
  for (const layer of layers) applied.push({ layer, material: await getMaterial(tx, layer.materialId) });
  const wares = applied.map((one) => one.material);
  refuseUnfit(found, wares, singleFiring);

  const last = await lastOrdinals(tx, pieceIds);
  const fired = await getTimesFired(tx, pieceIds);
  await tx.pieceGlaze.createMany({
    data: pieceIds.flatMap((pieceId) =>
      layers.map((layer, i) => ({
        ...{ pieceId, ordinal: (last.get(pieceId) ?? 0) + 1 + i, ...layer },
        firingsBefore: fired.get(pieceId) ?? 0,
      })),
    ),
  });
  const coats = applied.map(
    ({ layer, material: { name } }) => `${name}, ${layer.coats} ${layer.coats === 1 ? 'coat' : 'coats'}`,
  );
  const noted = [...coats, ...(note ? [note] : [])].join('; ');
  await noteEach(
    tx,
    now,
    found.map(({ id, stage, boardId }) => ({
      pieceId: id,
      stage: stageOnceCoated(stage, wares),
      boardId,
      note: noted,
    })),
  );
}

/** Refuses what is no coating, and what this ware can't take. */
function refuseUnfit(found: readonly Piece[], wares: readonly Material[], singleFiring: boolean): void {
  const gone = found.find((piece) => isGone(piece.stage));
  if (gone)
    throw new Problem('wrong-stage', `${gone.code} is ${stageInWords(gone.stage)}. Nothing more can be put on it.`);
  const wrong = wares.find(({ kind }) => !isCoating(kind));
  if (wrong)
    throw new Problem(
      'invalid-request',
      `${wrong.name} is ${kindInWords(wrong.kind)} and can't be noted on a piece. Choose a glaze, slip, underglaze, oxide, stain, wax, glass or lustre.`,
    );
  const lustre = wares.find(isLustre);
  const unglazed = found.find(({ stage }) => stage !== 'fired' && stage !== 'ready');
  if (lustre && unglazed)
    throw new Problem(
      'wrong-stage',
      `${unglazed.code} is ${stageInWords(unglazed.stage)}: ${lustre.name} is a lustre and goes on glaze that was fired.`,
    );
  const raw = found.find(({ stage }) => isRaw(stage));
  if (raw && !singleFiring && wares.some(({ kind }) => kind === 'glaze'))
    throw new Problem(
      'wrong-stage',
      `${raw.code} is ${stageInWords(raw.stage)}: glaze goes on bisque. If it is to be fired only once, say so; otherwise bisque it first.`,
    );
  if (singleFiring && !raw)
    throw new Problem(
      'wrong-stage',
      'None of this is raw ware. It has been fired already, so it can’t be fired only once.',
    );
}

async function lastOrdinals(tx: Transaction, pieceIds: readonly string[]): Promise<Map<string, number>> {
  const rows = await tx.pieceGlaze.groupBy({
    by: ['pieceId'],
    where: { pieceId: { in: [...pieceIds] } },
    _max: { ordinal: true },
  });
  return new Map(rows.map(({ pieceId, _max }) => [pieceId, _max.ordinal ?? 0]));
}

/**
 * Notes that raw glaze was washed off: bisque is bisque again, and fired ware fired. All that no firing has gone over comes off with
 * it; colour that a firing has fixed stays.
 *
 * @param how boardId is where they go; left out, each stays where it is
 */
export async function washOff(
  tx: Transaction,
  now: Date,
  pieceIds: readonly string[],
  how: { boardId?: string | null | undefined; note: string },
): Promise<Piece[]> {
  if (how.boardId) await findBoard(tx, how.boardId);
  const found = await lockPieces(tx, pieceIds);
  await refuseInTheFire(tx, found);
  const raw = await listRawLayers(tx, pieceIds);
  const fired = await listGlazeFired(tx, pieceIds);
  await refuseUnwashable(tx, found, raw, fired);
  await tx.pieceGlaze.updateMany({
    where: {
      OR: [...raw].map(([pieceId, layers]) => ({
        ...{ pieceId, washedOffAt: null },
        firingsBefore: { in: layers.map(({ firingsBefore }) => firingsBefore) },
      })),
    },
    data: { washedOffAt: now },
  });
  const note = how.note === '' ? 'Glaze washed off' : `Glaze washed off; ${how.note}`;
  const noted = found.map(({ id, stage, boardId }) => ({
    pieceId: id,
    stage: stage === 'glazed' ? (fired.has(id) ? ('fired' as const) : ('bisque' as const)) : stage,
    boardId: how.boardId === undefined ? boardId : how.boardId,
    note,
  }));
  await noteEach(tx, now, noted);
  return getPiecesById(tx, pieceIds);
}

/** Refuses ware that has nothing raw on it, or that was never fired: water would take the clay along. */
async function refuseUnwashable(
  tx: Transaction,
  found: readonly Piece[],
  raw: ReadonlyMap<string, readonly unknown[]>,
  fired: ReadonlySet<string>,
): Promise<void> {
  for (const { id, code, stage } of found) {
    const nothing = (raw.get(id)?.length ?? 0) === 0 && (stage !== 'glazed' || fired.has(id));
    if (isGone(stage) || isRaw(stage) || nothing)
      throw new Problem('wrong-stage', `${code} is ${stageInWords(stage)} and has no raw glaze to wash off.`, {
        pieceIds: [id],
      });
    if (stage === 'glazed' && !fired.has(id) && !(await wasBisqued(tx, id)))
      throw new Problem(
        'wrong-stage',
        `${code} was glazed raw: water would take the clay with the glaze. Fire it, or note it as broken.`,
        { pieceIds: [id] },
      );
  }
}

/** Ware that came in bisqued or glazed was bisqued elsewhere. */
async function wasBisqued(tx: Transaction, pieceId: string): Promise<boolean> {
  const ever = await tx.pieceEvent.count({ where: { pieceId, stage: 'bisque' } });
  const first = await tx.pieceEvent.findFirst({ where: { pieceId }, orderBy: { id: 'asc' }, select: { stage: true } });
  return ever > 0 || first?.stage === 'glazed';
}
