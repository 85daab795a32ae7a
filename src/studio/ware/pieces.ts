import { inOrder } from '../../database/find-page.js';
import type { Piece as Row } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { isCode, normaliseCode } from '../../trade/text/ware-code.js';
import type { MaterialKind } from '../materials/contract.js';
import { momentsOf } from '../settings/days.js';
import type { Layer, ListedPiece, Piece, PieceQuery, PieceStory } from './contract.js';
import { findPieces, getTimesFired, lastNoted, lockPieceRows } from './queries.js';

const MAKER = { maker: { select: { name: true } } } as const;

function show({ maker, serial: _, createdAt, ...piece }: Row & { maker: { name: string } }): Piece {
  return { ...piece, makerName: maker.name, createdAt: createdAt.toISOString() };
}

/** Pieces in the order of their ids given. Refused where one does not exist. */
export async function getPiecesById(tx: Transaction, ids: readonly string[]): Promise<Piece[]> {
  const rows = await tx.piece.findMany({ where: { id: { in: [...ids] } }, include: MAKER });
  const byId = new Map(rows.map((row) => [row.id, row]));
  return ids.map((id) => {
    const row = byId.get(id);
    if (!row) throw new Problem('not-found', `No piece has the id ${id}. Look it up by its code.`);
    return show(row);
  });
}

/** Pieces with their rows locked until this transaction ends: who judges or changes their stage does this first. */
export async function lockPieces(tx: Transaction, ids: readonly string[]): Promise<Piece[]> {
  await lockPieceRows(tx, ids);
  return getPiecesById(tx, ids);
}

const WITH_PLACES = {
  ...MAKER,
  board: { select: { name: true } },
  course: { select: { title: true } },
} as const;

export async function listPieces(tx: Transaction, query: PieceQuery) {
  const { before } = await momentsOf(tx, { to: query.waitingSince });
  const { ids, ...found } = await findPieces(tx, query, before);
  return { items: await listedPieces(tx, ids), ...found };
}

/** Those pieces with where they are and since when, in the order of their ids. */
export async function listedPieces(tx: Transaction, ids: readonly string[]): Promise<ListedPiece[]> {
  const rows = await tx.piece.findMany({ where: { id: { in: [...ids] } }, include: WITH_PLACES });
  const noted = await lastNoted(tx, ids);
  return inOrder(ids, rows).map(({ board, course, ...row }) => ({
    ...show(row),
    boardName: board?.name ?? null,
    courseTitle: course?.title ?? null,
    notedAt: (noted.get(row.id) ?? row.createdAt).toISOString(),
  }));
}

/** A piece with its glazes and all that happened to it. */
export async function getPieceStory(tx: Transaction, id: string): Promise<PieceStory> {
  return story(tx, { id }, 'No piece has this id. Look it up by its code, or on the page Ware.');
}

/** The piece that bears a code, however that was typed. A mistyped code is told from one that nobody made. */
export async function findPieceByCode(tx: Transaction, typed: string): Promise<PieceStory> {
  const code = normaliseCode(typed);
  if (!isCode(code))
    throw new Problem(
      'invalid-request',
      `"${typed}" isn't a code: the check character is wrong. Please read the code on the foot again.`,
    );
  return story(tx, { code }, `No piece has the code ${code}. Take it in first, on the page Ware.`);
}

async function story(tx: Transaction, where: { id: string } | { code: string }, missing: string): Promise<PieceStory> {
  const row = await tx.piece.findUnique({
    where,
    include: {
      ...MAKER,
      pieceGlazes: { orderBy: { ordinal: 'asc' }, include: { material: { select: { name: true, kind: true } } } },
      pieceEvents: { orderBy: { id: 'asc' }, include: { board: { select: { name: true } } } },
      draws: {
        orderBy: { stockMoveId: 'asc' },
        include: { stockMove: { include: { material: { select: { name: true, unit: true } } } } },
      },
    },
  });
  if (!row) throw new Problem('not-found', missing);
  const { pieceGlazes, pieceEvents, draws, ...piece } = row;
  return {
    ...show(piece),
    glazes: pieceGlazes.map(({ materialId, coats, way, foodSurface, washedOffAt, material: { name, kind } }) => ({
      ...{ materialId, coats, way, foodSurface, name, kind },
      washedOffAt: washedOffAt?.toISOString() ?? null,
    })),
    events: pieceEvents.map(({ at, stage, board, note }) => ({
      ...{ at: at.toISOString(), stage, boardName: board?.name ?? null, note },
    })),
    draws: draws.map(({ stockMove: { materialId, material, quantity, at, note } }) => ({
      ...{ materialId, ...material, quantity: -quantity, at: at.toISOString(), note },
    })),
  };
}

export type StandingLayer = Required<Layer> & {
  kind: MaterialKind;
  /** how many firings the piece had come out of when it went on */
  firingsBefore: number;
};

/** What lies on pieces, layer by layer from below, without what was washed off. A piece without layers is left out. */
export async function listLayers(tx: Transaction, ids: readonly string[]): Promise<Map<string, StandingLayer[]>> {
  const rows = await tx.pieceGlaze.findMany({
    where: { pieceId: { in: [...ids] }, washedOffAt: null },
    orderBy: { ordinal: 'asc' },
    include: { material: { select: { kind: true } } },
  });
  const shown = rows.map(({ material: { kind }, ...row }) => ({ ...row, kind }));
  return groupBy(shown, ({ pieceId }) => pieceId);
}

/** Of those layers, what no firing has gone over yet. */
export async function listRawLayers(tx: Transaction, ids: readonly string[]): Promise<Map<string, StandingLayer[]>> {
  const fired = await getTimesFired(tx, ids);
  const layers = await listLayers(tx, ids);
  return new Map(
    [...layers].map(([id, own]) => [id, own.filter(({ firingsBefore }) => firingsBefore === (fired.get(id) ?? 0))]),
  );
}
