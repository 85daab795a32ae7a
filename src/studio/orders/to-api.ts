import type { Prisma } from '../../database/generated/client.js';
import { fromDate } from '../../database/values.js';
import { amountMinor } from '../../trade/money/money.js';
import type { Order } from './contract.js';

/** What is read with an order to show it. */
export const ORDER_INCLUDE = {
  supplier: true,
  lines: { include: { material: true }, orderBy: [{ materialId: 'asc' }, { packQuantity: 'asc' }] },
  events: { orderBy: { id: 'asc' } },
} satisfies Prisma.SupplyOrderInclude;
type Row = Prisma.SupplyOrderGetPayload<{ include: typeof ORDER_INCLUDE }>;

/** An order as it stands; `received` as receivedOf() gives it. */
export function toOrder({ supplier, lines, events, note, ...row }: Row, received: ReadonlyMap<string, number>): Order {
  const shown = lines.map(({ materialId, material, packQuantity, packs, packPriceMinor }) => ({
    ...{ materialId, name: material.name, unit: material.unit, packQuantity, packs, packPriceMinor },
    amountMinor: amountMinor(packs, String(packPriceMinor)),
  }));
  const arrivals = [...new Set(lines.map(({ materialId }) => materialId))].map((materialId) => ({
    materialId,
    ordered: lines
      .filter((line) => line.materialId === materialId)
      .reduce((sum, { packs, packQuantity }) => sum + packs * packQuantity, 0),
    received: received.get(`${row.id} ${materialId}`) ?? 0,
  }));
  const placed = events.find(({ kind }) => kind === 'placed');
  const goodsMinor = shown.reduce((sum, { amountMinor }) => sum + amountMinor, 0);
  return {
    ...{ id: row.id, number: row.number, supplierId: row.supplierId, supplier: supplier.name },
    state: stateOf(events, arrivals),
    events: events.map((event) => ({ kind: event.kind, at: event.at.toISOString(), note: event.note })),
    expectedOn: placed?.expectedOn ? fromDate(placed.expectedOn) : null,
    documentId: placed?.documentId ?? null,
    note: note === '' ? null : note,
    lines: shown,
    arrivals,
    goodsMinor,
    carriageMinor: row.carriageMinor,
    totalMinor: goodsMinor + row.carriageMinor,
  };
}

function stateOf(events: readonly { kind: string }[], arrivals: Order['arrivals']): Order['state'] {
  const isCancelled = events.some(({ kind }) => kind === 'cancelled');
  if (arrivals.some(({ received }) => received > 0))
    return isCancelled || arrivals.every(({ ordered, received }) => received >= ordered) ? 'received' : 'partReceived';
  if (isCancelled) return 'cancelled';
  return events.some(({ kind }) => kind === 'placed') ? 'placed' : 'drafted';
}
