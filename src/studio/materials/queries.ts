import { Prisma } from '../../database/generated/client.js';
import { rowsOf } from '../../database/rows-of.js';
import { eachOnce, once, type Transaction } from '../../database/transaction.js';

/**
 * Locks a material, so that nobody else draws, receives or counts it until this transaction ends; false where there is none.
 * Read its lots only after this: two draws that see the same kilogram would both take it.
 */
export async function lockMaterial(tx: Transaction, id: string): Promise<boolean> {
  const rows = await tx.$queryRaw<unknown[]>`SELECT 1 FROM material WHERE id = ${id}::uuid FOR UPDATE`;
  return rows.length === 1;
}

/** As lockMaterial, of many: in the order of their ids, so that two who lock some of the same don't wait for each other. */
export async function lockMaterials(tx: Transaction, ids: readonly string[]): Promise<void> {
  await tx.$queryRaw`SELECT 1 FROM material WHERE id = ANY(${ids}::uuid[]) ORDER BY id FOR UPDATE`;
}

/** What goes by the kind and the unit of a material, as the subject of a sentence; null where nothing does yet. */
export async function findUses(tx: Transaction, id: string): Promise<string | null> {
  const [row] = await tx.$queryRaw<{ by: string | null }[]>`
    SELECT CASE
      WHEN EXISTS (SELECT 1 FROM lot WHERE material_id = ${id}::uuid) THEN 'its lots use'
      WHEN EXISTS (SELECT 1 FROM plan_piece WHERE ${id}::uuid IN (clay_id, glaze_id))
        OR EXISTS (SELECT 1 FROM plan_material WHERE material_id = ${id}::uuid) THEN 'a plan uses'
      WHEN EXISTS (SELECT 1 FROM piece WHERE clay_id = ${id}::uuid)
        OR EXISTS (SELECT 1 FROM piece_glaze WHERE material_id = ${id}::uuid) THEN 'ware uses'
      WHEN EXISTS (SELECT 1 FROM mix_part WHERE material_id = ${id}::uuid)
        OR EXISTS (SELECT 1 FROM mix WHERE product_id = ${id}::uuid) THEN 'a mix uses'
      WHEN EXISTS (SELECT 1 FROM test_tile WHERE body_id = ${id}::uuid)
        OR EXISTS (SELECT 1 FROM test_tile_layer WHERE material_id = ${id}::uuid) THEN 'a test tile uses'
      WHEN EXISTS (SELECT 1 FROM supply_order_line WHERE material_id = ${id}::uuid)
        OR EXISTS (SELECT 1 FROM material_pack WHERE material_id = ${id}::uuid) THEN 'its packs use'
    END AS by`;
  return row?.by ?? null;
}

export interface OpenLot {
  id: string;
  supplier: string | null;
  receivedOn: string;
  quantity: number;
  drawn: number;
  costMinor: number;
  leftWorthMinor: number;
}

/** What a lot costs in all: what stands on it, and its shares of carriage. */
const LOT_COST = Prisma.sql`
    (lot.cost_minor + coalesce((SELECT sum(amount_minor) FROM carriage_share WHERE lot_id = lot.id), 0))::float8`;

const lots = (which: Prisma.Sql) => Prisma.sql`
    SELECT lot.id, lot.material_id AS "materialId", supplier, received_on::text AS "receivedOn", lot.quantity,
           ${LOT_COST} AS "costMinor", lot.quantity - lot.left_quantity AS drawn, lot.left_minor AS "leftWorthMinor"
      FROM lot WHERE ${which}`;

/** The lots with something left, in the order in which they are drawn: first in, first out. */
export async function listOpenLots(tx: Transaction, materialId: string): Promise<OpenLot[]> {
  const rows = await tx.$queryRaw<(OpenLot & { materialId: string })[]>`
    ${lots(Prisma.sql`lot.material_id = ${materialId}::uuid AND left_quantity > 0`)} ORDER BY received_on, lot.id`;
  return rows.map(({ materialId: _, ...lot }) => lot);
}

/** A lot by its material, also where nothing is left of it. Read it only under the material's lock. */
export async function findLot(tx: Transaction, materialId: string, id: string): Promise<OpenLot | undefined> {
  const which = Prisma.sql`lot.id = ${id}::uuid AND lot.material_id = ${materialId}::uuid`;
  const [found] = await tx.$queryRaw<OpenLot[]>`${lots(which)}`;
  return found;
}

/** All lots of a consignment, in the order in which they were entered. */
export async function listLotsTogether(
  tx: Transaction,
  consignmentId: string,
): Promise<(OpenLot & { materialId: string })[]> {
  return tx.$queryRaw`${lots(Prisma.sql`lot.consignment_id = ${consignmentId}::uuid`)} ORDER BY lot.id`;
}

export interface LatestLot {
  materialId: string;
  receivedOn: string;
  quantity: number;
  costMinor: number;
}

/** The lot that tells what the next one will cost: the latest that was paid for; where all came free, the latest of those. */
export function listLatestLots(tx: Transaction, materialIds: readonly string[]): Promise<Map<string, LatestLot>> {
  return eachOnce(tx, 'latest lot', materialIds, async (missing) => {
    const rows = await tx.$queryRaw<LatestLot[]>`
      SELECT lot.material_id AS "materialId", received_on::text AS "receivedOn", quantity, ${LOT_COST} AS "costMinor"
        FROM unnest(${missing}::uuid[]) AS wanted (id)
        JOIN LATERAL (SELECT * FROM lot WHERE material_id = wanted.id AND supplier IS NOT NULL
                       ORDER BY (cost_minor > 0) DESC, received_on DESC, id DESC LIMIT 1) lot ON true`;
    return new Map(rows.map((row) => [row.materialId, row]));
  });
}

/**
 * Which of these materials ask for a count: a draw went beyond the books, and no stocktake came after it.
 * After and before go by ids, which are made under the material's lock; the hands of the clock may stand still.
 */
export async function listAskingForCount(tx: Transaction, materialIds: readonly string[]): Promise<Set<string>> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    SELECT m.id::text FROM ${ASKING} WHERE m.id = ANY(${materialIds}::uuid[])`;
  return new Set(rows.map((row) => row.id));
}

/** All that ask for a count, by name. */
export const listAllAskingForCount = (tx: Transaction): Promise<{ materialId: string; name: string }[]> =>
  once(
    tx,
    'asking for a count',
    () => tx.$queryRaw`SELECT m.id::text AS "materialId", m.name FROM ${ASKING} ORDER BY m.name`,
  );

const ASKING = Prisma.sql`(
    SELECT DISTINCT material_id FROM stock_move move
     WHERE kind = 'found' AND stocktake_id IS NULL
       AND NOT EXISTS (SELECT 1 FROM stocktake WHERE stocktake.material_id = move.material_id AND stocktake.id > move.id)
  ) asking JOIN material m ON m.id = asking.material_id`;

/** Quantity on hand and its worth, by the books, of each of these materials; one of which nothing is left is absent. */
export async function listHoldings(
  tx: Transaction,
  materialIds: readonly string[],
): Promise<Map<string, { onHand: number; worthMinor: number }>> {
  const rows = await tx.$queryRaw<{ id: string; onHand: number; worthMinor: number }[]>`
    SELECT material_id AS id, sum(left_quantity)::float8 AS "onHand", sum(left_minor)::float8 AS "worthMinor"
      FROM lot WHERE material_id = ANY(${materialIds}::uuid[]) AND left_quantity > 0 GROUP BY material_id`;
  return new Map(rows.map(({ id, ...held }) => [id, held]));
}

/** What all that is on hand is worth. */
export async function getStockWorthMinor(tx: Transaction): Promise<number> {
  const [row] = await tx.$queryRaw<{ minor: number }[]>`
    SELECT coalesce(sum(left_minor), 0)::float8 AS minor FROM lot WHERE left_quantity > 0`;
  return row?.minor ?? 0;
}

/** What is left of a lot, and the last day on which it can be used; null where it keeps. */
export type LotLeft = { materialId: string; day: string | null; quantity: number };

/** What is left of each lot of these materials, in the order in which it is drawn. */
export async function listLotsLeft(tx: Transaction, materialIds: readonly string[]): Promise<LotLeft[]> {
  return tx.$queryRaw<LotLeft[]>`
    SELECT m.id::text AS "materialId", (lot.received_on + m.shelf_life_days)::text AS day, lot.left_quantity AS quantity
      FROM material m JOIN lot ON lot.material_id = m.id AND lot.left_quantity > 0
     WHERE m.id = ANY(${materialIds}::uuid[]) ORDER BY lot.received_on, lot.id`;
}

type NewMove = {
  id: string;
  materialId: string;
  lotId: string;
  kind: string;
  quantity: number;
  costMinor: number;
  at: Date;
  note: string;
  stocktakeId?: string | null;
};

export async function insertStockMoves(tx: Transaction, moves: readonly NewMove[]): Promise<void> {
  if (moves.length === 0) return;
  await tx.$executeRaw`
    INSERT INTO stock_move (id, material_id, lot_id, kind, quantity, cost_minor, at, note, stocktake_id)
    SELECT * FROM ${rowsOf(moves)} AS m (id uuid, "materialId" uuid, "lotId" uuid, kind move_kind, quantity integer, "costMinor" integer,
             at timestamptz, note text, "stocktakeId" uuid)`;
}

/** Locks a supplier, so that of two who correct them at once one sees what the other wrote. */
export async function lockSupplierRow(tx: Transaction, id: string): Promise<void> {
  await tx.$queryRaw`SELECT 1 FROM supplier WHERE id = ${id}::uuid FOR UPDATE`;
}

export interface OnOrder {
  materialId: string;
  orderId: string;
  number: number;
  expectedOn: string;
  /** what has not come yet */
  quantity: number;
}

/** What is still to come of orders that were placed and not cancelled, of each of these materials. */
export async function listOnOrder(tx: Transaction, materialIds: readonly string[]): Promise<OnOrder[]> {
  return tx.$queryRaw<OnOrder[]>`
    SELECT * FROM (
      SELECT l.material_id AS "materialId", o.id AS "orderId", o.number, e.expected_on::text AS "expectedOn",
             (sum(l.packs * l.pack_quantity) - coalesce((
               SELECT sum(lot.quantity) FROM consignment c JOIN lot ON lot.consignment_id = c.id
                WHERE c.order_id = o.id AND lot.material_id = l.material_id), 0))::float8 AS quantity
        FROM supply_order o JOIN supply_order_line l ON l.order_id = o.id
        JOIN supply_order_event e ON e.order_id = o.id AND e.kind = 'placed'
       WHERE l.material_id = ANY(${materialIds}::uuid[])
         AND NOT EXISTS (SELECT 1 FROM supply_order_event x WHERE x.order_id = o.id AND x.kind = 'cancelled')
       GROUP BY l.material_id, o.id, e.expected_on) open
     WHERE quantity > 0 ORDER BY "expectedOn", number`;
}
