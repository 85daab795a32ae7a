import { takePayment } from '../../studio/accounts/payments/payments.js';
import { sell, takeBack } from '../../studio/sales/service.js';
import type { Page } from './context.js';
import type { EntryOf } from './event-log.js';

/** Somebody takes material home, and pays at once or owes it. */
export async function takeHome({ tx, now, names }: Page, entry: EntryOf<'takeHome'>): Promise<void> {
  const { quantity, note, paysBy: method } = entry;
  const [personId, materialId] = [names.id('person', entry.who), names.id('material', entry.material)];
  const sold = await sell(tx, now, { personId, materialId, quantity, note });
  names.keep('sale', saleOf(entry), sold);
  const { chargeId, grossMinor: amountMinor } = sold;
  if (method) await takePayment(tx, now, { personId, method, for: [{ chargeId, amountMinor }] });
}

export async function bringBack({ tx, now, names }: Page, entry: EntryOf<'bringBack'>): Promise<void> {
  const { quantity, because: reason, method } = entry;
  await takeBack(tx, now, names.id('sale', saleOf(entry)), { quantity, reason, method });
}

/** A person takes a material home once in these seeds. */
const saleOf = ({ who, material }: { who: string; material: string }) => `${who}, ${material}`;
