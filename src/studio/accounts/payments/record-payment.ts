import type { Transaction } from '../../../database/transaction.js';
import { Problem } from '../../../problems.js';
import type { ListedMethod, MoneyMethod, PaymentMethod } from '../contract.js';
import type { AccountCode, PostingTime } from '../ledger.js';
import { insertPayment } from '../queries.js';

/** Where money of each kind lies. */
export const DRAWER: Record<MoneyMethod, AccountCode> = { cash: 'cash', card: 'card', transfer: 'bank' };

/** What has gone back, and how; `isNew`: on a voucher made for it, since the day of the one that paid had passed. */
export type PaidBack = {
  amountMinor: number;
  method: PaymentMethod;
  voucher: { code: string; isNew: boolean; taxed: 'when-sold' | 'when-used' } | null;
  /** kept for them on a voucher of their own, where they wanted no money */
  isCredit?: boolean;
};

/** Keeps a payment with what it is for; one that buys a voucher is for no charge. */
export async function recordPayment(
  tx: Transaction,
  { at, on }: PostingTime,
  payment: { id: string; personId: string; method: ListedMethod; amountMinor: number; entryId: string | null },
  parts: { chargeId: string; amountMinor: number }[],
): Promise<void> {
  const { entryId } = payment;
  if (entryId === null) throw new Problem('not-balanced', 'The amount must be more than zero.');
  await insertPayment(
    tx,
    { ...payment, entryId, on, at },
    parts.map(({ chargeId, amountMinor }) => ({ chargeId, amountMinor })),
  );
}
