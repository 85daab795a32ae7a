import { shareCarriage } from '../../studio/materials/consignments.js';
import { draftOrder, placeOrder, receiveOrder } from '../../studio/orders/service.js';
import type { DemoContext } from './context.js';
import type { DemoEventOf } from './event-log.js';

/** Orders, and places the order at once. */
export async function placeDemoOrder({ tx, now, names }: DemoContext, entry: DemoEventOf<'order'>): Promise<void> {
  const lines = entry.lines.map(({ material, ...line }) => ({ ...line, materialId: names.id('material', material) }));
  const drafted = await draftOrder(tx, now, {
    supplierId: names.id('supplier', entry.supplier),
    lines,
    note: entry.note,
  });
  names.keep('order', entry.called, await placeOrder(tx, now, drafted.id));
}

/** What came of an order, and the bill for its carriage. */
export async function receive({ tx, now, names, shift }: DemoContext, entry: DemoEventOf<'receive'>): Promise<void> {
  const lots = entry.lots.map(({ material, ...lot }) => ({ ...lot, materialId: names.id('material', material) }));
  const receivedOn = shift.day(entry.at.slice(0, 10));
  const { id } = await receiveOrder(tx, now, names.id('order', entry.order), { receivedOn, lots });
  const { carriageMinor: amountMinor } = entry;
  if (amountMinor > 0) await shareCarriage(tx, now, id, { amountMinor, note: '' });
}
