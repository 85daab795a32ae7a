import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { Problem, see } from '../../problems.js';
import { lockSupplierRow } from './queries.js';
import { getMaterial } from './service.js';
import { lockMaterialStock } from './stock-moves.js';
import type { NewSupplier, Supplier, Supply } from './supplier-contract.js';

export async function addSupplier(tx: Transaction, wanted: NewSupplier): Promise<Supplier> {
  await refuseNameTwice(tx, wanted.name);
  return tx.supplier.create({ data: { id: newId(), ...wanted } });
}

/** A supplier by id, refused with a sentence where there is none. */
export async function getSupplier(tx: Transaction, id: string): Promise<Supplier> {
  const row = await tx.supplier.findUnique({ where: { id } });
  if (!row)
    throw new Problem(
      'not-found',
      'No supplier has this id. Look for it on the page Shelf.',
      see('shelf', '/api/suppliers'),
    );
  return row;
}

export async function listSuppliers(tx: Transaction, query: PageQuery) {
  return page(await tx.supplier.findMany(pageArgs(query)), query, (row): Supplier => row);
}

/** The supplier as they stand, whom nobody else can change until the transaction ends. */
export async function lockSupplier(tx: Transaction, id: string): Promise<Supplier> {
  await lockSupplierRow(tx, id);
  return getSupplier(tx, id);
}

/** Replaces what is said of a supplier. Orders that were placed keep what they say. */
export async function changeSupplier(tx: Transaction, id: string, wanted: NewSupplier): Promise<Supplier> {
  await getSupplier(tx, id);
  await refuseNameTwice(tx, wanted.name, id);
  return tx.supplier.update({ where: { id }, data: wanted });
}

export async function removeSupplier(tx: Transaction, id: string): Promise<void> {
  const { name } = await lockSupplier(tx, id);
  const { _count } = await tx.supplier.findUniqueOrThrow({
    where: { id },
    select: { _count: { select: { materials: true, orders: true } } },
  });
  if (_count.materials + _count.orders > 0)
    throw new Problem('still-needed', `Materials or orders name "${name}", so it stays. Rename it if it is closed.`);
  await tx.supplier.delete({ where: { id } });
}

async function refuseNameTwice(tx: Transaction, name: string, id?: string): Promise<void> {
  if ((await tx.supplier.count({ where: { name, ...(id && { id: { not: id } }) } })) > 0)
    throw new Problem('already-there', `There is a supplier named "${name}" already. Choose another name.`);
}

/** Where a material is usually bought, and as what. */
export async function getSupply(tx: Transaction, materialId: string): Promise<Supply> {
  await getMaterial(tx, materialId);
  return (await listSupplies(tx, [materialId])).get(materialId) ?? { supplierId: null, packs: [] };
}

/** Where each of these materials is usually bought, and as what: smallest pack first. */
export async function listSupplies(tx: Transaction, materialIds: readonly string[]): Promise<Map<string, Supply>> {
  const rows = await tx.material.findMany({
    where: { id: { in: [...materialIds] } },
    select: {
      ...{ id: true, supplierId: true },
      packs: { orderBy: { quantity: 'asc' }, select: { quantity: true, priceMinor: true } },
    },
  });
  return new Map(rows.map(({ id, ...found }) => [id, found]));
}

/** The supply as it stands, which nobody else can change until the transaction ends. */
export async function lockSupply(tx: Transaction, materialId: string): Promise<Supply> {
  await lockMaterialStock(tx, materialId);
  return getSupply(tx, materialId);
}

/** Replaces where a material is bought, and its packs there. */
export async function changeSupply(tx: Transaction, materialId: string, wanted: Supply): Promise<Supply> {
  await lockMaterialStock(tx, materialId);
  if (wanted.supplierId !== null) await getSupplier(tx, wanted.supplierId);
  await tx.material.update({ where: { id: materialId }, data: { supplierId: wanted.supplierId } });
  await tx.materialPack.deleteMany({ where: { materialId } });
  await tx.materialPack.createMany({ data: wanted.packs.map((pack) => ({ materialId, ...pack })) });
  return getSupply(tx, materialId);
}
