import { type FoundPage, findPage, within } from '../../database/find-page.js';
import { Prisma } from '../../database/generated/client.js';
import { oneAtATime } from '../../database/one-at-a-time.js';
import { rowsOf } from '../../database/rows-of.js';
import { eachOnce, type Transaction } from '../../database/transaction.js';
import type { Hazard } from '../../documents/hazard-words.js';
import type { FiringKind } from '../../trade/firing/kiln-room.js';
import type { Stage } from '../../trade/firing/ware-stages.js';
import { searchPatterns } from '../../trade/text/search-text.js';
import type { FiringQuery } from './contract.js';

/** The number of the last firing; nobody else makes one until this transaction ends, or two would bear the same. */
export async function lockFiringNumber(tx: Transaction): Promise<number> {
  await oneAtATime(tx, 'numbering firings');
  const [last] = await tx.$queryRaw<{ number: number | null }[]>`SELECT max(number) AS number FROM firing`;
  return last?.number ?? 0;
}

/** Locks a kiln's row before its calendar is judged: two plans made at once would each find it free. */
export async function lockKiln(tx: Transaction, kilnId: string): Promise<void> {
  await tx.$queryRaw`SELECT id FROM kiln WHERE id = ${kilnId}::uuid FOR UPDATE`;
}

/** Locks a firing's row, so that its state holds until this transaction ends. Take it before the rows of its pieces. */
export async function lockFiringRow(tx: Transaction, id: string): Promise<void> {
  await tx.$queryRaw`SELECT id FROM firing WHERE id = ${id}::uuid FOR UPDATE`;
}

/** A firing that was unloaded, and the room of its ware by which it was settled, in mm³; null where it is not settled yet. */
type LatestLoad = { id: string; settledMm3: number | null };

/** The latest firings of each kiln and kind in which anything stood, in the order asked for, and of each the latest first. */
export async function listLatestLoads(
  tx: Transaction,
  of: readonly { kilnId: string; kind: FiringKind }[],
  { before, count }: { before: Date | undefined; count: number },
): Promise<LatestLoad[][]> {
  const began = before ? Prisma.sql`f.started_at < ${before}` : Prisma.sql`true`;
  const keyOf = ({ kilnId, kind }: { kilnId: string; kind: FiringKind }) => `${kilnId} ${kind}`;
  const wanted = new Map(of.map((each) => [keyOf(each), each]));
  const name = `latest ${count} loads before ${before?.toISOString() ?? 'any'}`;
  const found = await eachOnce(tx, name, [...wanted.keys()], async (missing) => {
    const kilns = missing.flatMap((key) => wanted.get(key)?.kilnId ?? []);
    const kinds = missing.flatMap((key) => wanted.get(key)?.kind ?? []);
    const rows = await tx.$queryRaw<(LatestLoad & { nth: number })[]>`
    SELECT w.nth::integer, latest.id::text, CASE WHEN latest.state = 'settled' THEN (
             SELECT coalesce(sum(weight_mm3), 0) FROM share WHERE firing_id = latest.id AND piece_id IS NOT NULL) END::float8 AS "settledMm3"
      FROM unnest(${kilns}::uuid[], ${kinds}::text[]) WITH ORDINALITY AS w (kiln_id, kind, nth)
      JOIN LATERAL (SELECT f.id, f.state, f.started_at FROM firing f JOIN schedule s ON s.id = f.schedule_id
             WHERE f.kiln_id = w.kiln_id AND s.kind::text = w.kind AND f.state IN ('unloaded', 'settled') AND ${began}
               AND EXISTS (SELECT 1 FROM placement WHERE firing_id = f.id)
             ORDER BY f.started_at DESC, f.id DESC LIMIT ${count}) latest ON true
     ORDER BY w.nth, latest.started_at DESC, latest.id DESC`;
    return new Map(missing.map((key, i) => [key, rows.filter(({ nth }) => nth === i + 1)]));
  });
  return of.map((each) => found.get(keyOf(each)) ?? []);
}

type Fired = { kilnId: string; scheduleId: string };
type Metered = { kwh: string; firings: number };

/** What the metered firings of each kiln and schedule drew in the mean, in kWh, and how many they are; undefined where there are none. */
export async function listMeteredMeans(tx: Transaction, of: readonly Fired[]): Promise<(Metered | undefined)[]> {
  const keyOf = ({ kilnId, scheduleId }: Fired) => `${kilnId} ${scheduleId}`;
  const wanted = new Map(of.map((each) => [keyOf(each), each]));
  const found = await eachOnce(tx, 'metered mean', [...wanted.keys()], async (missing) => {
    const kilns = missing.flatMap((key) => wanted.get(key)?.kilnId ?? []);
    const schedules = missing.flatMap((key) => wanted.get(key)?.scheduleId ?? []);
    const rows = await tx.$queryRaw<(Metered & Fired)[]>`
      SELECT w.kiln_id::text AS "kilnId", w.schedule_id::text AS "scheduleId", avg(f.energy_kwh)::text AS kwh,
             count(f.id)::integer AS firings
        FROM unnest(${kilns}::uuid[], ${schedules}::uuid[]) AS w (kiln_id, schedule_id)
        JOIN firing f ON f.kiln_id = w.kiln_id AND f.schedule_id = w.schedule_id AND f.state = 'settled' AND f.energy_kwh > 0
       GROUP BY w.kiln_id, w.schedule_id`;
    return new Map(rows.map(({ kwh, firings, ...each }) => [keyOf(each), { kwh, firings }]));
  });
  return of.map((each) => found.get(keyOf(each)));
}

/**
 * Locks ware that is ready, of one maker or of all, in id order, so that two who announce at once come one after the other;
 * then leaves out what its maker was told of since it last became ready (ids are UUID v7: they run in the order of recording),
 * and what stands in a load for another firing: nobody could collect it.
 */
export async function lockUnannounced(tx: Transaction, makerId: string | undefined): Promise<string[]> {
  const of = makerId ? Prisma.sql`maker_id = ${makerId}::uuid` : Prisma.sql`true`;
  await tx.$queryRaw`SELECT id FROM piece WHERE stage = 'ready' AND ${of} ORDER BY id FOR UPDATE`;
  // a statement of its own: the one above saw the tables as they were before it waited
  const rows = await tx.$queryRaw<{ id: string }[]>`
    SELECT p.id::text FROM piece p
     WHERE p.stage = 'ready' AND ${of} AND NOT EXISTS (
       SELECT 1 FROM announced_piece a
        WHERE a.piece_id = p.id AND NOT EXISTS (
          SELECT 1 FROM piece_event e WHERE e.piece_id = p.id AND e.stage <> 'ready' AND e.id > a.notice_id))
       AND NOT EXISTS (
         SELECT 1 FROM placement l JOIN firing f ON f.id = l.firing_id
          WHERE l.piece_id = p.id AND f.state IN ('planned', 'firing'))
     ORDER BY p.id`;
  return rows.map(({ id }) => id);
}

/** Which pieces each notice told of. */
export async function insertAnnounced(
  tx: Transaction,
  announced: readonly { pieceId: string; noticeId: string }[],
): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO announced_piece (piece_id, notice_id)
    SELECT a."pieceId", a."noticeId" FROM ${rowsOf(announced)} AS a ("pieceId" uuid, "noticeId" uuid)`;
}

/** How often each of these pieces was told of; one that never was is left out. */
export async function countAnnounced(tx: Transaction, pieceIds: readonly string[]): Promise<Map<string, number>> {
  const rows = await tx.$queryRaw<{ id: string; times: number }[]>`
    SELECT piece_id::text AS id, count(*)::integer AS times FROM announced_piece
     WHERE piece_id = ANY (${pieceIds}::uuid[]) GROUP BY piece_id`;
  return new Map(rows.map(({ id, times }) => [id, times]));
}

type NewPlacementRow = {
  firingId: string;
  pieceId: string;
  layer: number;
  studioPays: boolean;
  hotterBecause: string | null;
};

export async function insertPlacements(tx: Transaction, placements: readonly NewPlacementRow[]): Promise<void> {
  if (placements.length === 0) return;
  await tx.$executeRaw`
    INSERT INTO placement (firing_id, piece_id, layer, studio_pays, hotter_because)
    SELECT * FROM ${rowsOf(placements)} AS p ("firingId" uuid, "pieceId" uuid, layer integer, "studioPays" boolean, "hotterBecause" text)`;
}

type NewShare = {
  id: string;
  firingId: string;
  pieceId: string | null;
  personId: string | null;
  weightMm3: number;
  amountMinor: number;
};

export async function insertShares(tx: Transaction, shares: readonly NewShare[]): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO share (id, firing_id, piece_id, person_id, weight_mm3, amount_minor)
    SELECT * FROM ${rowsOf(shares)} AS s (id uuid, "firingId" uuid, "pieceId" uuid, "personId" uuid, "weightMm3" bigint, "amountMinor" integer)`;
}

export type Arrival = { pieceId: string; stage: Stage; wasBisqued: boolean };

/** The stage at which each piece was taken in, and whether it was bisqued since: what was done to it before, nobody here knows. */
export async function listArrivals(tx: Transaction, pieceIds: readonly string[]): Promise<Map<string, Arrival>> {
  const rows = await tx.$queryRaw<Arrival[]>`
    SELECT wanted.id::text AS "pieceId", came.stage::text AS stage,
           EXISTS (SELECT FROM piece_event e WHERE e.piece_id = wanted.id AND e.stage = 'bisque') AS "wasBisqued"
      FROM unnest(${pieceIds}::uuid[]) AS wanted (id)
      JOIN LATERAL (SELECT e.stage FROM piece_event e WHERE e.piece_id = wanted.id ORDER BY e.id LIMIT 1) came ON true`;
  return new Map(rows.map((row) => [row.pieceId, row]));
}

export type LayerHazard = {
  pieceId: string;
  materialId: string;
  name: string;
  kind: string;
  warning: Hazard['warning'];
};

/** What lies on pieces, layer by layer from below, without what was washed off, and what it warns of. */
export async function listLayerHazards(tx: Transaction, pieceIds: readonly string[]): Promise<LayerHazard[]> {
  return tx.$queryRaw<LayerHazard[]>`
    SELECT g.piece_id::text AS "pieceId", m.id::text AS "materialId", m.name, m.kind::text AS kind,
           CASE WHEN m.hazard_note IS NOT NULL
                THEN json_build_object('text', m.hazard_note, 'statedOn', m.hazard_note_on) END AS warning
      FROM piece_glaze g JOIN material m ON m.id = g.material_id
     WHERE g.piece_id = ANY(${pieceIds}::uuid[]) AND g.washed_off_at IS NULL ORDER BY g.ordinal, g.piece_id`;
}

/** A number is looked for as a whole: "12" is firing 12 and not 112. */
const firingsLike = (pattern: string): Prisma.Sql => {
  const [number = '-1'] = pattern.match(/^%? ?(\d{1,9})%$/)?.slice(1) ?? [];
  return Prisma.sql`
    SELECT k.id FROM firing k WHERE k.number = ${Number(number)}
    UNION ALL SELECT k.id FROM firing k WHERE k.kiln_id IN (SELECT id FROM kiln WHERE search_text(name) LIKE ${pattern})
    UNION ALL SELECT k.id FROM firing k WHERE k.schedule_id IN (SELECT id FROM schedule WHERE search_text(name) LIKE ${pattern})`;
};

export function findFirings(
  tx: Transaction,
  query: FiringQuery,
  days: { from?: Date; before?: Date },
): Promise<FoundPage> {
  const { q, kilnId, kind, state, order } = query;
  const words = q === undefined ? [] : searchPatterns(q);
  return findPage(
    tx,
    {
      ...{ from: Prisma.sql`firing f`, id: Prisma.sql`f.id` },
      where: [
        ...words.map((word) => Prisma.sql`f.id IN (${firingsLike(word)})`),
        q !== undefined && words.length === 0 && Prisma.sql`false`,
        kilnId !== undefined && Prisma.sql`f.kiln_id = ${kilnId}::uuid`,
        kind && Prisma.sql`f.schedule_id IN (SELECT id FROM schedule WHERE kind = ${kind}::firing_kind)`,
        state && Prisma.sql`f.state = ${state}::firing_state`,
        within(Prisma.sql`f.planned_from`, days),
      ],
      ...(order === 'newest' && { order: { by: Prisma.sql`f.planned_from`, as: 'timestamptz', isDown: true } }),
    },
    query,
  );
}
