import type { StockMove as MoveRow, Material as Row } from '../../database/generated/client.js';
import { eachOnce, type Transaction } from '../../database/transaction.js';
import { fromDate, fromDecimal, toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { Problem, see } from '../../problems.js';
import { Decimal } from '../../trade/money/money.js';
import type { CostSource } from '../../trade/pricing/course-price.js';
import { formatDay } from '../../trade/text/format.js';
import { getStudio } from '../settings/service.js';
import type {
  CostedLot,
  Material,
  MaterialInDetail,
  NewLot,
  NewMaterial,
  NewMaterialDraw,
  StockedMaterial,
  StockMove,
} from './contract.js';
import { arePowders, kindInWords } from './material-kinds.js';
import { dayFault, listTakenNames, wrongDays } from './material-validation.js';
import { findUses, listAskingForCount, listHoldings, listLatestLots, listOpenLots, lockMaterials } from './queries.js';
import { statementOf, toStoredAsks } from './statement.js';
import { addFoundStock, addLot, addLots, getStudioDay, lockMaterialStock, takeFromStock } from './stock-moves.js';

const MOVES_SHOWN = 50;
const RATE_DECIMALS = 12; // a cost per gram rarely ends; beyond this many no sum of money would notice

export async function addMaterial(tx: Transaction, now: Date, wanted: NewMaterial): Promise<Material> {
  const id = newId();
  await refuseUnfit(tx, now, id, wanted);
  return toMaterial(await tx.material.create({ data: { id, ...kept(wanted) } }));
}

/** Adds many at once, after `material-validation.ts` had nothing against them. */
export async function addMaterials(tx: Transaction, _now: Date, wanted: readonly NewMaterial[]): Promise<void> {
  await tx.material.createMany({ data: wanted.map((one) => ({ id: newId(), ...kept(one) })) });
}

/** The material as its address shows it, which nobody else can change, draw or receive until the transaction ends. */
export async function lockMaterialForChange(tx: Transaction, id: string): Promise<MaterialInDetail> {
  await lockMaterialStock(tx, id);
  return getMaterialInDetail(tx, id);
}

/** Corrects what is said of a material. What it is and how it is counted stays once something goes by that. */
export async function changeMaterial(
  tx: Transaction,
  now: Date,
  id: string,
  wanted: NewMaterial,
): Promise<MaterialInDetail> {
  const before = await getMaterial(tx, id);
  await refuseUnfit(tx, now, id, wanted);
  const other = (['kind', 'unit'] as const).find((field) => wanted[field] !== before[field]);
  const alike = other === 'kind' && wanted.unit === before.unit && arePowders(wanted.kind, before.kind);
  const by = other === undefined || alike ? null : await findUses(tx, id);
  if (other !== undefined && by !== null)
    throw new Problem(
      'still-needed',
      `The ${other} of ${before.name} stays ${other === 'kind' ? kindInWords(before.kind) : before.unit}, because ${by} it. Add another material instead.`,
    );
  await tx.material.update({ where: { id }, data: kept(wanted) });
  return getMaterialInDetail(tx, id);
}

async function refuseUnfit(tx: Transaction, now: Date, id: string, wanted: NewMaterial): Promise<void> {
  const [wrong] = wrongDays(wanted, await getStudioDay(tx, now));
  if (wrong) refuseDay(wrong.day, wrong.detail, `#/${wrong.field.replace('.', '/')}`);
  if ((await listTakenNames(tx, [wanted.name], id)).size > 0)
    throw new Problem('already-there', `There is a material named "${wanted.name}" already. Choose another name.`);
}

/** A material by id, refused with a sentence where there is none. */
export async function getMaterial(tx: Transaction, id: string): Promise<Material> {
  const row = await tx.material.findUnique({ where: { id } });
  if (!row)
    throw new Problem(
      'not-found',
      'No material has this id. Look for it on the page Shelf.',
      see('shelf', '/api/materials'),
    );
  return toMaterial(row);
}

/** Those of these materials that there are, under their ids. */
export function getMaterialsById(tx: Transaction, ids: readonly string[]): Promise<Map<string, Material>> {
  return eachOnce(tx, 'material', ids, async (missing) => {
    const rows = await tx.material.findMany({ where: { id: { in: missing } } });
    return new Map(rows.map((row) => [row.id, toMaterial(row)]));
  });
}

export async function listMaterials(tx: Transaction, query: PageQuery) {
  const { items, next } = page(await tx.material.findMany(pageArgs(query)), query, toMaterial);
  return { items: await withStock(tx, items), next };
}

/** A material with the lots that hold something and its latest moves; without money, so that everybody may see it. */
export async function getMaterialInDetail(tx: Transaction, id: string): Promise<MaterialInDetail> {
  const [stocked] = await withStock(tx, [await getMaterial(tx, id)]);
  const lots = await listOpenLots(tx, id);
  const moves = await tx.stockMove.findMany({ where: { materialId: id }, orderBy: { id: 'desc' }, take: MOVES_SHOWN });
  return {
    ...(stocked as StockedMaterial),
    lots: lots.map(({ drawn, costMinor: _, leftWorthMinor: __, ...lot }) => ({ ...lot, left: lot.quantity - drawn })),
    moves: moves.map(showMove),
  };
}

export async function listMoves(tx: Transaction, materialId: string, query: PageQuery) {
  await getMaterial(tx, materialId);
  return page(await tx.stockMove.findMany(pageArgs(query, { materialId })), query, showMove);
}

/** What the books hold of each material, in its unit; nothing of one that never moved. */
async function onHand(tx: Transaction, materialIds: readonly string[]): Promise<Map<string, number>> {
  const held = await listHoldings(tx, materialIds);
  return new Map(materialIds.map((id) => [id, held.get(id)?.onHand ?? 0]));
}

/** Puts a lot on the shelf. Its cost stays; only carriage whose bill comes later is added, to all that came in one consignment. */
export async function receiveLot(
  tx: Transaction,
  now: Date,
  wanted: NewLot & { materialId: string; consignmentId?: string },
): Promise<CostedLot> {
  await lockMaterialStock(tx, wanted.materialId);
  const wrong = dayFault(wanted.receivedOn, await getStudioDay(tx, now));
  if (wrong !== null) refuseDay(wanted.receivedOn, wrong, '#/receivedOn');
  const id = await addLot(tx, now, { ...wanted, kind: 'received', note: '', stocktakeId: null });
  const { materialId: _, consignmentId: __, ...lot } = wanted;
  return { id, ...lot, left: lot.quantity, leftWorthMinor: lot.costMinor };
}

/** Puts many lots on the shelf at once, after `material-validation.ts` had nothing against them. */
export async function receiveLots(
  tx: Transaction,
  now: Date,
  wanted: readonly (NewLot & { materialId: string })[],
): Promise<void> {
  await lockMaterials(tx, [...new Set(wanted.map(({ materialId }) => materialId))]);
  await addLots(
    tx,
    now,
    wanted.map((lot) => ({ ...lot, kind: 'received', note: '', stocktakeId: null })),
  );
}

/**
 * Draws from the oldest lots. What the books don't hold is taken as found, without cost, and the material asks for a count.
 * Who draws several materials in one transaction does so in the order of their ids, or two such draws could wait for each other.
 *
 * @returns moveIds of what went out, one for each lot it came from; costMinor of all of them
 */
export async function drawMaterial(
  tx: Transaction,
  now: Date,
  wanted: Pick<NewMaterialDraw, 'quantity' | 'note'> & { materialId: string; kind?: NewMaterialDraw['kind'] | 'sold' },
) {
  const taking = { kind: 'drawn' as const, ...wanted, stocktakeId: null };
  await lockMaterialStock(tx, wanted.materialId);
  const booked = await takeFromStock(tx, now, taking);
  const foundQuantity = booked.shortBy;
  let beyond: string[] = [];
  if (foundQuantity > 0) {
    await addFoundStock(tx, now, {
      materialId: wanted.materialId,
      quantity: foundQuantity,
      note: wanted.note,
      stocktakeId: null,
    });
    beyond = (await takeFromStock(tx, now, { ...taking, quantity: foundQuantity })).moveIds;
  }
  const left = (await onHand(tx, [wanted.materialId])).get(wanted.materialId) ?? 0;
  const asksForCount = (await listAskingForCount(tx, [wanted.materialId])).has(wanted.materialId);
  return {
    moveIds: [...booked.moveIds, ...beyond],
    costMinor: booked.costMinor,
    foundQuantity,
    onHand: left,
    asksForCount,
  };
}

/**
 * What the next purchase of each material will cost, by the latest lot that was paid for.
 *
 * @returns rateMinor per g, ml or piece, and where it comes from; no entry where nothing was ever received
 */
export async function getNextUnitCosts(
  tx: Transaction,
  materialIds: readonly string[],
): Promise<Map<string, { rateMinor: string; source: CostSource }>> {
  const { locale } = await getStudio(tx);
  const lots = await listLatestLots(tx, materialIds);
  return new Map(
    [...lots].map(([id, lot]) => {
      const rate = new Decimal(lot.costMinor).div(lot.quantity).toDecimalPlaces(RATE_DECIMALS);
      return [id, { rateMinor: rate.toString(), source: { kind: 'lot', detail: lotInWords(lot, locale) } }];
    }),
  );
}

export const lotInWords = (lot: { receivedOn: string }, locale: string) =>
  `Lot of ${formatDay(lot.receivedOn, locale)}, carriage included.`;

async function withStock(tx: Transaction, shown: Material[]): Promise<StockedMaterial[]> {
  const ids = shown.map((m) => m.id);
  const [held, asking] = [await onHand(tx, ids), await listAskingForCount(tx, ids)];
  return shown.map((m) => ({ ...m, onHand: held.get(m.id) ?? 0, asksForCount: asking.has(m.id) }));
}

function refuseDay(day: string, detail: string, pointer: string): never {
  throw new Problem('invalid-request', `${day} can't be right: the day ${detail}.`, { errors: [{ pointer, detail }] });
}

function kept({ firingRange, manufacturerStatement, hazardNote, ...plain }: NewMaterial) {
  return {
    ...plain,
    firesFromC: firingRange?.fromC ?? null,
    firesToC: firingRange?.toC ?? null,
    manufacturerStatement: manufacturerStatement?.quote ?? null,
    manufacturerStatementOn: manufacturerStatement ? toDate(manufacturerStatement.statedOn) : null,
    ...toStoredAsks(manufacturerStatement?.asks ?? null),
    hazardNote: hazardNote?.text ?? null,
    hazardNoteOn: hazardNote ? toDate(hazardNote.statedOn) : null,
  };
}

/** A material as its address shows it. */
export function toMaterial(row: Row): Material {
  const { id, name, kind, unit, packQuantity, leadTimeDays, shelfLifeDays } = row;
  const { firesFromC, firesToC, hazardNote, hazardNoteOn } = row;
  const decimal = (value: Row['waterPercent']) => (value === null ? null : fromDecimal(value));
  return {
    ...{ id, name, kind, unit, packQuantity, leadTimeDays, shelfLifeDays },
    waterPercent: decimal(row.waterPercent),
    inputVatPercent: decimal(row.inputVatPercent),
    dryingShrinkagePercent: decimal(row.dryingShrinkagePercent),
    firingShrinkagePercent: decimal(row.firingShrinkagePercent),
    dryGramsPerMl: decimal(row.dryGramsPerMl),
    firingRange: firesFromC === null || firesToC === null ? null : { fromC: firesFromC, toC: firesToC },
    manufacturerStatement: statementOf(row),
    hazardNote:
      hazardNote === null || hazardNoteOn === null ? null : { text: hazardNote, statedOn: fromDate(hazardNoteOn) },
  };
}

function showMove({ id, lotId, kind, quantity, at, note }: MoveRow): StockMove {
  return { id, lotId, kind, quantity, at: at.toISOString(), note };
}
