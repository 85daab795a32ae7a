import { type FoundPage, findPage } from '../../database/find-page.js';
import { Prisma } from '../../database/generated/client.js';
import { oneAtATime } from '../../database/one-at-a-time.js';
import { rowsOf } from '../../database/rows-of.js';
import { changed, once, type Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import type { Stage } from '../../trade/firing/ware-stages.js';
import type { Losses, LostAt } from '../../trade/pricing/remakes.js';
import { searchPatterns } from '../../trade/text/search-text.js';
import { normaliseCode } from '../../trade/text/ware-code.js';
import { personMatches } from '../people/queries.js';
import type { PieceQuery } from './contract.js';

/**
 * The number of the last piece, with all other intakes kept waiting until this transaction ends: two that count at the same
 * time would make the same codes. Take it last.
 */
export async function lockSerial(tx: Transaction): Promise<number> {
  await oneAtATime(tx, 'numbering pieces');
  // by its index: Prisma's aggregate would read every piece ever taken in
  const [last] = await tx.$queryRaw<{ serial: number | null }[]>`SELECT max(serial) AS serial FROM piece`;
  return last?.serial ?? 0;
}

type NewRow = {
  id: string;
  code: string;
  serial: number;
  makerId: string;
  courseId: string | null;
  firingPaidBy: string;
  description: string;
  form: string;
  widthMm: number;
  depthMm: number;
  heightMm: number;
  measured: boolean;
  clayId: string | null;
  boardId: string | null;
  stage: Stage;
  createdAt: Date;
};

export async function insertPieces(tx: Transaction, pieces: readonly NewRow[]): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO piece (id, code, serial, maker_id, course_id, firing_paid_by, description, form, width_mm, depth_mm, height_mm, measured,
                       clay_id, board_id, stage, created_at)
    SELECT * FROM ${rowsOf(pieces)} AS p (id uuid, code text, serial integer, "makerId" uuid, "courseId" uuid, "firingPaidBy" piece_paid_by,
             description text, form ware_form, "widthMm" integer, "depthMm" integer, "heightMm" integer, measured boolean, "clayId" uuid,
             "boardId" uuid, stage piece_stage, "createdAt" timestamptz)`;
}

/** What became of a piece. */
export type Noted = { pieceId: string; stage: Stage; boardId: string | null; note: string };

/** Writes it into the pieces' stories. */
export async function insertEvents(tx: Transaction, at: Date, noted: readonly Noted[]): Promise<void> {
  const events = noted.map((one) => ({ id: newId(), ...one }));
  await tx.$executeRaw`
    INSERT INTO piece_event (id, piece_id, at, stage, board_id, note)
    SELECT e.id, e."pieceId", ${at}, e.stage, e."boardId", e.note
      FROM ${rowsOf(events)} AS e (id uuid, "pieceId" uuid, stage piece_stage, "boardId" uuid, note text)`;
}

/** Writes it on the pieces themselves, each named once. */
export async function updatePieces(tx: Transaction, noted: readonly Noted[]): Promise<void> {
  await tx.$executeRaw`
    UPDATE piece SET stage = n.stage, board_id = n."boardId"
      FROM ${rowsOf(noted)} AS n ("pieceId" uuid, stage piece_stage, "boardId" uuid) WHERE piece.id = n."pieceId"`;
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
export async function listInTheFire(tx: Transaction, pieceIds: readonly string[]): Promise<Map<string, number>> {
  const rows = await tx.placement.findMany({
    where: { pieceId: { in: [...pieceIds] }, firing: { state: 'firing' } },
    select: { pieceId: true, firing: { select: { number: true } } },
  });
  return new Map(rows.map(({ pieceId, firing }) => [pieceId, firing.number]));
}

/** How many firings each of these pieces has come out of; a piece that never was in one is left out. */
export async function getTimesFired(tx: Transaction, pieceIds: readonly string[]): Promise<Map<string, number>> {
  const rows = await tx.placement.groupBy({
    by: ['pieceId'],
    where: { pieceId: { in: [...pieceIds] }, outcome: { not: null } },
    _count: true,
  });
  return new Map(rows.map(({ pieceId, _count }) => [pieceId, _count]));
}

/** Which of these pieces have been through a glaze or lustre firing, whatever it made of them. */
export async function listGlazeFired(tx: Transaction, pieceIds: readonly string[]): Promise<Set<string>> {
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

/**
 * The pieces of courses that were lost, by how far they had got: the firing in which they broke, else the last stage before. What broke
 * before it was taken in is in nobody's books.
 */
export function getLossesByStage(tx: Transaction): Promise<Losses> {
  return once(tx, LOSSES, () => readLosses(tx));
}

const LOSSES = 'losses';
/** To be called where something is noted as broken. */
export const lossesChanged = (tx: Transaction): void => changed(tx, LOSSES);

async function readLosses(tx: Transaction): Promise<Losses> {
  const rows = await tx.$queryRaw<{ at: LostAt; pieces: number }[]>`
    SELECT lost_at::text AS at, count(*)::integer AS pieces FROM piece
     WHERE lost_at IS NOT NULL AND course_id IS NOT NULL GROUP BY lost_at`;
  const of = (at: LostAt) => rows.find((row) => row.at === at)?.pieces ?? 0;
  return { making: of('making'), bisque: of('bisque'), glaze: of('glaze'), lustre: of('lustre') };
}

export const HERE = Prisma.sql`p.stage NOT IN ('collected', 'givenAway', 'reclaimed', 'broken')`;
const NOTED_AT = Prisma.sql`(SELECT e.at FROM piece_event e WHERE e.piece_id = p.id ORDER BY e.id DESC LIMIT 1)`;

const ORDERS = {
  oldest: {},
  newest: { order: { by: Prisma.sql`p.created_at`, as: 'timestamptz', isDown: true } },
  waiting: { order: { by: NOTED_AT, as: 'timestamptz' } },
} as const;

/** @param before nothing was noted since this moment */
export function findPieces(tx: Transaction, query: PieceQuery, before: Date | undefined): Promise<FoundPage> {
  const { q, makerId, courseId, boardId, stage, form, is, order } = query;
  const words = q === undefined ? [] : searchPatterns(q);
  const isHere = is === 'here' || order === 'waiting' || before !== undefined;
  const areFew = isHere || (makerId ?? courseId ?? boardId) !== undefined;
  return findPage(
    tx,
    {
      ...{ from: Prisma.sql`piece p`, id: Prisma.sql`p.id` },
      where: [
        ...words.map((word) => (areFew ? pieceMatches(word) : Prisma.sql`p.id IN (${piecesLike(word)})`)),
        q !== undefined && words.length === 0 && Prisma.sql`false`,
        makerId !== undefined && Prisma.sql`p.maker_id = ${makerId}::uuid`,
        courseId !== undefined && Prisma.sql`p.course_id = ${courseId}::uuid`,
        boardId !== undefined && Prisma.sql`p.board_id = ${boardId}::uuid`,
        stage && Prisma.sql`p.stage = ${stage}::piece_stage`,
        form && Prisma.sql`p.form = ${form}::ware_form`,
        is === 'gone' && Prisma.sql`NOT (${HERE})`,
        isHere && HERE,
        before !== undefined && Prisma.sql`${NOTED_AT} < ${before}`,
      ],
      ...ORDERS[order],
    },
    query,
  );
}

const codeLike = (pattern: string) => `% ${normaliseCode(pattern.replace(/[% ]/g, '')).toLowerCase()}%`;

/** A word of the code, however its signs were read, of the description or of the maker's name; for use as `x IN (...)`. */
const piecesLike = (pattern: string): Prisma.Sql => Prisma.sql`
  SELECT k.id FROM piece k WHERE k.search LIKE ${pattern} OR k.search LIKE ${codeLike(pattern)}
  UNION ALL SELECT k.id FROM piece k WHERE k.maker_id IN (${personMatches(pattern)})`;

/** The same of a piece `p`, where few pieces are left to look at: all that are like a usual word would be many more. */
export const pieceMatches = (pattern: string): Prisma.Sql => Prisma.sql`
  (p.search LIKE ${pattern} OR p.search LIKE ${codeLike(pattern)} OR p.maker_id IN (${personMatches(pattern)}))`;

/** When something was last noted of each of these pieces. */
export async function lastNoted(tx: Transaction, pieceIds: readonly string[]): Promise<Map<string, Date>> {
  if (pieceIds.length === 0) return new Map();
  const ids = Prisma.join(pieceIds.map((id) => Prisma.sql`${id}::uuid`));
  const rows = await tx.$queryRaw<{ id: string; at: Date }[]>`
    SELECT p.id::text, ${NOTED_AT} AS at FROM piece p WHERE p.id IN (${ids})`;
  return new Map(rows.map(({ id, at }) => [id, at]));
}
