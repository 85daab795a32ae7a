import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { material } from '../materials/service.js';
import { lock } from '../materials/stock-moves.js';
import { taxRate } from '../settings/service.js';
import type { NewSale, SellingPrice } from './contract.js';

/** What a material is sold for; nothing of one that nobody has priced. */
export async function sellingPrice(tx: Transaction, materialId: string): Promise<SellingPrice> {
  await material(tx, materialId);
  const row = await tx.sellingPrice.findUnique({ where: { materialId } });
  return { priceMinor: row?.priceMinor ?? null, taxRateId: row?.taxRateId ?? null };
}

/** As sellingPrice, and nobody else can change it until the transaction ends. */
export async function lockedSellingPrice(tx: Transaction, materialId: string): Promise<SellingPrice> {
  await lock(tx, materialId);
  return sellingPrice(tx, materialId);
}

/** Sets what a material is sold for from now on; what was sold stays at its price. */
export async function changeSellingPrice(
  tx: Transaction,
  materialId: string,
  wanted: SellingPrice,
): Promise<SellingPrice> {
  await lock(tx, materialId);
  if (wanted.taxRateId !== null) await taxRate(tx, wanted.taxRateId);
  await tx.sellingPrice.upsert({ where: { materialId }, create: { materialId, ...wanted }, update: wanted });
  return sellingPrice(tx, materialId);
}

/** The price and the tax of a sale: as given, else as the material is sold; refused where neither says it. */
export async function priceOf(
  tx: Transaction,
  { materialId, ...given }: Pick<NewSale, 'materialId' | 'priceMinor' | 'taxRateId'>,
): Promise<{ priceMinor: number; taxRateId: string }> {
  const usual = await sellingPrice(tx, materialId);
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
