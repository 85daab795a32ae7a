import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { getMaterial } from '../materials/service.js';
import { lockMaterialStock } from '../materials/stock-moves.js';
import { getTaxRate } from '../settings/service.js';
import type { NewSale, SellingPrice } from './contract.js';

/** What a material is sold for; nothing of one that nobody has priced. */
export async function getSellingPrice(tx: Transaction, materialId: string): Promise<SellingPrice> {
  await getMaterial(tx, materialId);
  const row = await tx.sellingPrice.findUnique({ where: { materialId } });
  return { priceMinor: row?.priceMinor ?? null, taxRateId: row?.taxRateId ?? null };
}

/** As getSellingPrice, and nobody else can change it until the transaction ends. */
export async function lockSellingPrice(tx: Transaction, materialId: string): Promise<SellingPrice> {
  await lockMaterialStock(tx, materialId);
  return getSellingPrice(tx, materialId);
}

/** Sets what a material is sold for from now on; what was sold stays at its price. */
export async function changeSellingPrice(
  tx: Transaction,
  materialId: string,
  wanted: SellingPrice,
): Promise<SellingPrice> {
  await lockMaterialStock(tx, materialId);
  if (wanted.taxRateId !== null) await getTaxRate(tx, wanted.taxRateId);
  await tx.sellingPrice.upsert({ where: { materialId }, create: { materialId, ...wanted }, update: wanted });
  return getSellingPrice(tx, materialId);
}

/** The price and the tax of a sale: as given, else as the material is sold; refused where neither says it. */
export async function salePriceMinor(
  tx: Transaction,
  { materialId, ...given }: Pick<NewSale, 'materialId' | 'priceMinor' | 'taxRateId'>,
): Promise<{ priceMinor: number; taxRateId: string }> {
  const usual = await getSellingPrice(tx, materialId);
  const priceMinor = given.priceMinor ?? usual.priceMinor;
  const taxRateId = given.taxRateId ?? usual.taxRateId;
  if (priceMinor === null) missing('priceMinor', 'It has no selling price. Set one, or give a price for this sale.');
  if (taxRateId === null)
    missing('taxRateId', 'No VAT rate is set for it. Set one with its selling price, or choose one for this sale.');
  return { priceMinor, taxRateId };
}

function missing(field: string, detail: string): never {
  throw new Problem('price-incomplete', detail, { errors: [{ pointer: `#/${field}`, detail }] });
}
