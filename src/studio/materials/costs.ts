import type { Transaction } from '../../database/transaction.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { Decimal, roundHalfUp } from '../../trade/money/money.js';
import { getStudio } from '../settings/service.js';
import type { MaterialCosts } from './contract.js';
import { getStockWorthMinor, type LatestLot, listHoldings, listLatestLots, listOpenLots } from './queries.js';
import { getMaterial, lotInWords } from './service.js';

/** What a material costs and what is left of it is worth: its latest price per pack, and each lot that still holds something. */
export async function getMaterialCosts(tx: Transaction, id: string): Promise<MaterialCosts> {
  const { packQuantity } = await getMaterial(tx, id);
  const { locale } = await getStudio(tx);
  const lots = await listOpenLots(tx, id);
  return {
    materialId: id,
    packPrice: packPrice((await listLatestLots(tx, [id])).get(id), packQuantity, locale),
    worthMinor: lots.reduce((sum, lot) => sum + lot.leftWorthMinor, 0),
    lots: lots.map(({ drawn, ...lot }) => ({ ...lot, left: lot.quantity - drawn })),
  };
}

/** Every material with its latest price per pack and the worth of what is on hand; the total is of all, not of the page. */
export async function getStockValue(tx: Transaction, query: PageQuery) {
  const { locale } = await getStudio(tx);
  const rows = await tx.material.findMany(pageArgs(query));
  const ids = rows.map((row) => row.id);
  const [held, latest] = [await listHoldings(tx, ids), await listLatestLots(tx, ids)];
  return {
    totalMinor: await getStockWorthMinor(tx),
    ...page(rows, query, ({ id, name, unit, packQuantity }) => ({
      materialId: id,
      name,
      unit,
      packQuantity,
      packPrice: packPrice(latest.get(id), packQuantity, locale),
      onHand: held.get(id)?.onHand ?? 0,
      worthMinor: held.get(id)?.worthMinor ?? 0,
    })),
  };
}

function packPrice(lot: LatestLot | undefined, packQuantity: number, locale: string) {
  if (!lot) return null;
  const exact = new Decimal(lot.costMinor).times(packQuantity).div(lot.quantity);
  return { amountMinor: roundHalfUp(exact), detail: lotInWords(lot, locale) };
}
