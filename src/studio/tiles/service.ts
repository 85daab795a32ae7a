import type { Transaction } from '../../database/transaction.js';
import { toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { page } from '../../http/paging.js';
import { Problem, see } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { formatDay } from '../../trade/text/format.js';
import { getKiln, getSchedule } from '../kilns/service.js';
import { getMaterial } from '../materials/service.js';
import { getStudio } from '../settings/service.js';
import type { NewTile, Tile, TileQuery } from './contract.js';
import { findTileIds, lockTile, lockTileNumber } from './queries.js';
import { TILE_INCLUDE, toTile } from './to-api.js';

/** Enters a tile and gives it the number that is scratched into its back. */
export async function addTile(tx: Transaction, now: Date, wanted: NewTile): Promise<Tile> {
  await refuseUnfit(tx, now, wanted);
  const id = newId();
  const number = (await lockTileNumber(tx)) + 1;
  await tx.testTile.create({ data: { id, number, ...kept(wanted), layers: { create: layersOf(wanted) } } });
  return getTile(tx, id);
}

/** The tile as its address shows it, which nobody else can change until the transaction ends. */
export async function lockTileForChange(tx: Transaction, id: string): Promise<Tile> {
  await lockTile(tx, id);
  return getTile(tx, id);
}

/** Writes down what was seen since, or mends what was wrong. */
export async function changeTile(tx: Transaction, now: Date, id: string, wanted: NewTile): Promise<Tile> {
  await refuseUnfit(tx, now, wanted);
  await tx.testTileLayer.deleteMany({ where: { tileId: id } });
  await tx.testTile.update({ where: { id }, data: { ...kept(wanted), layers: { create: layersOf(wanted) } } });
  return getTile(tx, id);
}

/** A tile by id, refused with a sentence where there is none. */
export async function getTile(tx: Transaction, id: string): Promise<Tile> {
  const row = await tx.testTile.findUnique({ where: { id }, include: TILE_INCLUDE });
  if (!row)
    throw new Problem(
      'not-found',
      'No test tile has this id. Look for it on the page Shelf.',
      see('shelf', '/api/test-tiles'),
    );
  return toTile(row);
}

/** Tiles, oldest first: all, or those that hold every word that is searched for. */
export async function listTiles(tx: Transaction, query: TileQuery) {
  const words = (query.search ?? '').split(/\s+/).filter(Boolean);
  const ids = await findTileIds(tx, { ...query, words, take: query.limit + 1 });
  const rows = await tx.testTile.findMany({
    include: TILE_INCLUDE,
    where: { id: { in: ids } },
    orderBy: { id: 'asc' },
  });
  return page(rows, query, toTile);
}

const NO_COAT = new Set(['clay', 'consumable', 'packaging', 'kilnWash']);

async function refuseUnfit(tx: Transaction, now: Date, { bodyId, layers, firing }: NewTile): Promise<void> {
  const body = await getMaterial(tx, bodyId);
  if (body.kind !== 'clay') refuse('#/bodyId', `${body.name} is not a clay. Choose what the tile is made of.`);
  for (const [i, { materialId }] of layers.entries()) {
    const { name, kind } = await getMaterial(tx, materialId);
    if (NO_COAT.has(kind))
      refuse(`#/layers/${i}/materialId`, `${name} is not a coating. Choose a glaze, a slip or the like.`);
  }
  if (firing === null) return;
  const { timeZone, locale } = await getStudio(tx);
  const today = localDay(now, timeZone);
  if (firing.firedOn > today || firing.firedOn < '1950-01-01')
    refuse(
      '#/firing/firedOn',
      `A tile can’t have been fired on ${formatDay(firing.firedOn, locale)}. Give a day up to today, ${formatDay(today, locale)}.`,
    );
  if (firing.kilnId !== null) await getKiln(tx, firing.kilnId);
  if (firing.scheduleId !== null) await getSchedule(tx, firing.scheduleId);
}

function refuse(pointer: string, detail: string): never {
  throw new Problem('invalid-request', detail, { errors: [{ pointer, detail }] });
}

function kept({ layers: _, firing, ...said }: NewTile) {
  const { firedOn = null, kilnId = null, scheduleId = null, cone = null } = firing ?? {};
  return { ...said, firedOn: firedOn === null ? null : toDate(firedOn), kilnId, scheduleId, cone };
}

const layersOf = ({ layers }: NewTile) => layers.map((layer, i) => ({ ...layer, ordinal: i + 1 }));
