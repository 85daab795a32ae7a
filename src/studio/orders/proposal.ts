import type { Transaction } from '../../database/transaction.js';
import { see } from '../../problems.js';
import { amountMinor, formatMoneyInText } from '../../trade/money/money.js';
import { cheapestPacks } from '../../trade/stock/cheapest-packs.js';
import type { Supplier } from '../materials/supplier-contract.js';
import { listSupplies, getSupplier as supplierBy } from '../materials/suppliers.js';
import type { Studio } from '../settings/contract.js';
import { getStudio } from '../settings/service.js';
import type { OutlookItem } from '../stock-outlook/contract.js';
import { getOutlook } from '../stock-outlook/service.js';
import type { OrderProposal, SuggestedSupplier } from './proposal-contract.js';

type Line = SuggestedSupplier['lines'][number];

/** What the outlook says must be ordered, as one order for each supplier. Nothing is kept. */
export async function getProposal(tx: Transaction, now: Date): Promise<OrderProposal> {
  const studio = await getStudio(tx);
  const short = (await getOutlook(tx, now)).flatMap(({ packs, packQuantity, orderBy, atMost, ...item }) =>
    orderBy === null || packs === 0
      ? []
      : [{ ...named(item), mixId: item.mixId, needQuantity: packs * packQuantity, orderBy, atMost }],
  );
  const ids = short.map(({ materialId }) => materialId);
  const soldBy = await listSupplies(tx, ids);
  const bySupplier = new Map<string, Line[]>();
  const unsold: OrderProposal['unsold'] = [];
  const toMix: OrderProposal['toMix'] = [];
  for (const { mixId, ...item } of short) {
    const { supplierId = null, packs = [] } = soldBy.get(item.materialId) ?? {};
    if (mixId !== null) toMix.push({ ...item, mixId });
    else if (supplierId === null || packs.length === 0) unsold.push({ ...item, advice: adviceFor(supplierId, item) });
    else
      bySupplier.set(supplierId, [
        ...(bySupplier.get(supplierId) ?? []),
        { ...item, packs: cheapestPacks(item.needQuantity, packs).map(shownPack) },
      ]);
  }
  const suppliers: SuggestedSupplier[] = [];
  for (const [id, lines] of bySupplier) suppliers.push(suggested(await supplierBy(tx, id), lines, studio));
  return { suppliers: suppliers.sort((a, b) => a.orderBy.localeCompare(b.orderBy)), toMix, unsold };
}

const named = ({ materialId, name, unit }: Pick<OutlookItem, 'materialId' | 'name' | 'unit'>) => ({
  materialId,
  name,
  unit,
});

const adviceFor = (supplierId: string | null, { materialId }: { materialId: string }) => ({
  text: `Say ${supplierId === null ? 'who sells it and in which packs' : 'in which packs it is sold'}, on the page Shelf.`,
  ...see('shelf', `/api/materials/${materialId}/supply`),
});

const shownPack = ({ quantity, packs, priceMinor }: { quantity: number; packs: number; priceMinor: number }) => ({
  packQuantity: quantity,
  packs,
  packPriceMinor: priceMinor,
  amountMinor: amountMinor(packs, String(priceMinor)),
});

function suggested(supplier: Supplier, lines: Line[], studio: Studio): SuggestedSupplier {
  const goodsMinor = lines.flatMap(({ packs }) => packs).reduce((sum, { amountMinor }) => sum + amountMinor, 0);
  const carriageMinor = carriageOn(supplier, goodsMinor);
  return {
    supplierId: supplier.id,
    supplier: supplier.name,
    orderBy: lines.map(({ orderBy }) => orderBy).sort()[0] as string,
    lines,
    goodsMinor,
    carriageMinor,
    totalMinor: goodsMinor + carriageMinor,
    toFreeCarriage: toFreeCarriage(supplier, goodsMinor, studio),
  };
}

/** What an order of these goods costs to bring. */
export const carriageOn = ({ freeFromMinor, carriageMinor }: Supplier, goodsMinor: number): number =>
  freeFromMinor !== null && goodsMinor >= freeFromMinor ? 0 : carriageMinor;

/**
 * What is missing to the sum from which carriage is free. What is bought for it is used in the end, so that it costs only its
 * storing and the money lying still; whether that is worth the carriage is the owner's to say.
 */
function toFreeCarriage(
  supplier: Supplier,
  goodsMinor: number,
  { currency, locale }: Studio,
): SuggestedSupplier['toFreeCarriage'] {
  const savesMinor = carriageOn(supplier, goodsMinor);
  if (supplier.freeFromMinor === null || savesMinor === 0) return null;
  const moreMinor = supplier.freeFromMinor - goodsMinor;
  const money = (minor: number) => formatMoneyInText(minor, currency, locale);
  const advice = `${money(moreMinor)} more makes carriage free and saves ${money(savesMinor)}: worth it for what you will use before it spoils.`;
  return { moreMinor, savesMinor, advice };
}
