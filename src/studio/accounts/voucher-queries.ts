import { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';

/** Locks vouchers until the transaction ends, in id order and after the charges: two tills would both find enough on one. */
export async function lockVouchers(tx: Transaction, voucherIds: readonly string[]): Promise<void> {
  if (voucherIds.length === 0) return;
  const ids = Prisma.join(voucherIds.map((id) => Prisma.sql`${id}::uuid`));
  await tx.$queryRaw`SELECT id FROM voucher WHERE id IN (${ids}) ORDER BY id FOR UPDATE`;
}

/** What is left on vouchers, by their ids. Judge it under lockVouchers where you are about to move it. */
export async function leftOn(tx: Transaction, voucherIds: readonly string[]): Promise<Map<string, number>> {
  const sums = await tx.voucherMove.groupBy({
    by: ['voucherId'],
    where: { voucherId: { in: [...voucherIds] } },
    _sum: { amountMinor: true },
  });
  return new Map(sums.map(({ voucherId, _sum }) => [voucherId, _sum.amountMinor ?? 0]));
}
