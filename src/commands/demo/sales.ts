import { takePayment } from '../../studio/accounts/payments/payments.js';
import { recordReturn, recordSale } from '../../studio/sales/service.js';
import type { DemoContext } from './context.js';
import type { DemoEventOf } from './event-log.js';

/** Somebody takes material home, and pays at once or owes it. */
export async function takeHome({ tx, now, names }: DemoContext, entry: DemoEventOf<'takeHome'>): Promise<void> {
  const { quantity, note, paysBy: method } = entry;
  const [personId, materialId] = [names.id('person', entry.who), names.id('material', entry.material)];
  const sold = await recordSale(tx, now, { personId, materialId, quantity, note });
  names.keep('sale', saleOf(entry), sold);
  const { chargeId, grossMinor: amountMinor } = sold;
  if (method) await takePayment(tx, now, { personId, method, for: [{ chargeId, amountMinor }] });
}

export async function bringBack({ tx, now, names }: DemoContext, entry: DemoEventOf<'bringBack'>): Promise<void> {
  const { quantity, because: reason, method } = entry;
  await recordReturn(tx, now, names.id('sale', saleOf(entry)), { quantity, reason, method });
}

/** A person takes a material home once in these seeds. */
const saleOf = ({ who, material }: { who: string; material: string }) => `${who}, ${material}`;
