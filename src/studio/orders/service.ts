import type { Transaction } from '../../database/transaction.js';
import { toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { Problem, see } from '../../problems.js';
import { addDays, localDay } from '../../trade/calendar/calendar.js';
import { amountMinor } from '../../trade/money/money.js';
import { formatDay } from '../../trade/text/format.js';
import type { Arrived, Consignment } from '../materials/consignment-contract.js';
import { receiveConsignment } from '../materials/consignments.js';
import { listSupplies, getSupplier as supplierBy } from '../materials/suppliers.js';
import { issueDocument } from '../notices/service.js';
import { getPaperHead } from '../settings/paper-head.js';
import { getStudio } from '../settings/service.js';
import type { NewOrder, Order } from './contract.js';
import { orderContent, orderName } from './order-document.js';
import { carriageOn } from './proposal.js';
import { lockOrder, lockOrderNumber, receivedOf } from './queries.js';
import { ORDER_INCLUDE, toOrder } from './to-api.js';

/** Drafts an order at the prices of today, which stay on it. */
export async function draftOrder(tx: Transaction, now: Date, wanted: NewOrder): Promise<Order> {
  const supplier = await supplierBy(tx, wanted.supplierId);
  const lines = await priced(tx, wanted, supplier.name);
  const goodsMinor = lines.reduce((sum, line) => sum + amountMinor(line.packs, String(line.packPriceMinor)), 0);
  const id = newId();
  const number = (await lockOrderNumber(tx)) + 1;
  const { supplierId, note } = wanted;
  const carriageMinor = carriageOn(supplier, goodsMinor);
  await tx.supplyOrder.create({ data: { id, number, supplierId, carriageMinor, note: note ?? '' } });
  await tx.supplyOrderLine.createMany({ data: lines.map((line) => ({ orderId: id, ...line })) });
  await happened(tx, now, id, { kind: 'drafted' });
  return getOrder(tx, id);
}

async function priced(tx: Transaction, { supplierId, lines }: NewOrder, supplier: string) {
  const sold = await listSupplies(
    tx,
    lines.map(({ materialId }) => materialId),
  );
  const refuse = (i: number, detail: string) =>
    new Problem('invalid-request', `Line ${i + 1} can’t be ordered: it ${detail}.`, {
      errors: [{ pointer: `#/lines/${i}/packQuantity`, detail }],
    });
  return lines.map((line, i) => {
    const { materialId, packQuantity } = line;
    const supply = sold.get(materialId);
    const pack = supply?.packs.find(({ quantity }) => quantity === packQuantity);
    if (!pack || supply?.supplierId !== supplierId) throw refuse(i, `must be a pack in which ${supplier} sells it`);
    if (lines.findIndex((l) => l.materialId === materialId && l.packQuantity === packQuantity) !== i)
      throw refuse(i, 'is on the order already: put it in one line');
    return { ...line, packPriceMinor: pack.priceMinor };
  });
}

/** An order by id, with what has come of it. */
export async function getOrder(tx: Transaction, id: string): Promise<Order> {
  const row = await tx.supplyOrder.findUnique({ where: { id }, include: ORDER_INCLUDE });
  if (!row)
    throw new Problem('not-found', 'No order has this id. Look for it on the page Shelf.', see('shelf', '/api/orders'));
  return toOrder(row, await receivedOf(tx, [id]));
}

export async function listOrders(tx: Transaction, query: PageQuery) {
  const rows = await tx.supplyOrder.findMany({ include: ORDER_INCLUDE, ...pageArgs(query) });
  const received = await receivedOf(
    tx,
    rows.map(({ id }) => id),
  );
  return page(rows, query, (row) => toOrder(row, received));
}

/** Places a draft: its paper is issued, and from now on the outlook reckons with it. */
export async function placeOrder(tx: Transaction, now: Date, id: string, expected?: string): Promise<Order> {
  const drafted = await locked(tx, id, ['drafted'], 'placed');
  const studio = await getStudio(tx);
  const today = localDay(now, studio.timeZone);
  const supplier = await supplierBy(tx, drafted.supplierId);
  const rows = await tx.material.findMany({ where: { id: { in: drafted.lines.map((line) => line.materialId) } } });
  const expectedOn =
    expected ?? addDays(today, Math.max(supplier.leadTimeDays, ...rows.map(({ leadTimeDays }) => leadTimeDays)));
  if (expectedOn < today)
    throw new Problem(
      'invalid-request',
      `An order placed today can’t arrive on ${formatDay(expectedOn, studio.locale)}. Give a later day.`,
      {
        errors: [{ pointer: '#/expectedOn', detail: `must be ${formatDay(today, studio.locale)} or later` }],
      },
    );
  const content = orderContent(await getPaperHead(tx), drafted, supplier, { placedOn: today, expectedOn });
  const fileName = `${orderName(drafted.number).toLowerCase()}.pdf`;
  const documentId = await issueDocument(tx, now, { kind: 'order', fileName, content });
  await happened(tx, now, id, { kind: 'placed', expectedOn: toDate(expectedOn), documentId });
  return getOrder(tx, id);
}

/** Cancels an order, or what has not come of it. */
export async function cancelOrder(tx: Transaction, now: Date, id: string, note: string): Promise<Order> {
  await locked(tx, id, ['drafted', 'placed', 'partReceived'], 'cancelled');
  await happened(tx, now, id, { kind: 'cancelled', note });
  return getOrder(tx, id);
}

/** Receives what came of an order: all or a part, each material as a lot at what it was billed. */
export async function receiveOrder(tx: Transaction, now: Date, id: string, arrived: Arrived): Promise<Consignment> {
  const { supplier, lines } = await locked(tx, id, ['placed', 'partReceived'], 'received');
  const ordered = new Set(lines.map(({ materialId }) => materialId));
  const stray = arrived.lots.findIndex(({ materialId }) => !ordered.has(materialId));
  if (stray !== -1)
    throw new Problem(
      'invalid-request',
      'Not all of this was ordered. Take what was not in as a delivery of its own.',
      {
        errors: [{ pointer: `#/lots/${stray}/materialId`, detail: 'must be a material of this order' }],
      },
    );
  return receiveConsignment(tx, now, { ...arrived, supplier, orderId: id });
}

async function locked(tx: Transaction, id: string, states: readonly Order['state'][], wish: string): Promise<Order> {
  await lockOrder(tx, id);
  const found = await getOrder(tx, id);
  if (states.includes(found.state)) return found;
  const state = found.state === 'partReceived' ? 'received in part' : found.state;
  throw new Problem('order-state', `Order ${found.number} is ${state} and can't be ${wish}. Look it up again.`);
}

type Happening = { kind: 'drafted' | 'placed' | 'cancelled'; expectedOn?: Date; documentId?: string; note?: string };

async function happened(tx: Transaction, at: Date, orderId: string, event: Happening): Promise<void> {
  await tx.supplyOrderEvent.create({ data: { id: newId(), orderId, at, note: '', ...event } });
}
