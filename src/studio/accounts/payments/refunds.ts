import type { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';
import { fromDate } from '../../../database/values.js';
import { newId } from '../../../http/ids.js';
import { Problem } from '../../../problems.js';
import { addDays, daysBetween } from '../../../trade/calendar/calendar.js';
import { lastPaidFirst } from '../../../trade/money/refund-order.js';
import { MoneyMethod, type PaymentMethod, type RefundMethod } from '../contract.js';
import { type LedgerLine, type PostingTime, postEntry } from '../ledger.js';
import { getRemainingOn, lockVouchers } from '../queries.js';
import { asExtended, isExpired, issueVoucher, taxWhenSold, type VoucherRow } from '../vouchers/document.js';
import { recordMove, voucherLines } from '../vouchers/moves.js';
import { DRAWER, type PaidBack, recordPayment } from './record-payment.js';

/** A part of a refund: in money, or on the voucher that paid it. */
type Part = { voucherId: string | null; amountMinor: number };

const CARRIED = { parts: { orderBy: { ordinal: 'asc' } } } as const;

/** How a refund of a charge falls apart: what was paid last goes back first, and what came off a voucher goes back on one. */
export async function refundParts(tx: Transaction, chargeId: string, refundMinor: number): Promise<Part[]> {
  const rows = await tx.allocation.findMany({
    where: { chargeId, payment: { reversedBy: null, reverses: null } }, // what was taken back never counted
    include: { payment: { include: { entry: { include: { voucherMove: true } }, carryIn: { include: CARRIED } } } },
    orderBy: [{ payment: { at: 'asc' } }, { paymentId: 'asc' }],
  });
  const history = rows.flatMap(({ amountMinor, payment: { entry, carryIn } }) =>
    carryIn
      ? carryIn.parts.map(({ voucherId, ...part }) => ({ from: voucherId, amountMinor: part.amountMinor }))
      : [{ from: entry.voucherMove?.voucherId ?? null, amountMinor }],
  );
  return lastPaidFirst(history, refundMinor).map(({ from, amountMinor }) => ({ voucherId: from, amountMinor }));
}

/** How much of a refund would go back in money, for which somebody must say how. */
export async function refundInMoney(tx: Transaction, chargeId: string, refundMinor: number): Promise<number> {
  const parts = await refundParts(tx, chargeId, refundMinor);
  return parts.reduce((sum, part) => sum + (part.voucherId === null ? part.amountMinor : 0), 0);
}

/**
 * How a charge was paid last in money, which is how a refund goes back where nobody says otherwise. Of what was carried over from another
 * charge it is how its payer last paid for anything. Undefined where they never paid in money.
 */
export async function lastMoneyMethod(tx: Transaction, chargeId: string): Promise<MoneyMethod | undefined> {
  const inMoney = {
    reversedBy: null,
    reverses: null,
    method: { in: [...MoneyMethod.options] },
    amountMinor: { gt: 0 },
  };
  const last = (where: Prisma.PaymentWhereInput) =>
    tx.payment.findFirst({
      where: { ...inMoney, ...where },
      orderBy: [{ at: 'desc' }, { id: 'desc' }],
      select: { method: true },
    });
  const found =
    (await last({ allocations: { some: { chargeId, amountMinor: { gt: 0 } } } })) ??
    (await last({ person: { charges: { some: { id: chargeId } } } }));
  return found ? MoneyMethod.safeParse(found.method).data : undefined;
}

/** Locks the vouchers that paid for any of these charges, in their order: before many refunds, each of which locks its own. */
export async function lockVouchersOf(tx: Transaction, chargeIds: readonly string[]): Promise<void> {
  const moves = await tx.voucherMove.findMany({
    where: { entry: { payment: { allocations: { some: { chargeId: { in: [...chargeIds] } } } } } },
    select: { voucherId: true },
    distinct: ['voucherId'],
  });
  const carried = await tx.paymentCarryPart.findMany({
    where: { voucherId: { not: null }, carry: { in: { allocations: { some: { chargeId: { in: [...chargeIds] } } } } } },
    select: { voucherId: true },
  });
  await lockVouchers(
    tx,
    [...moves, ...carried].flatMap(({ voucherId }) => voucherId ?? []),
  );
}

/** Pays back part of what was paid for a charge, once that part has been credited. @returns its parts, the last paid first */
export async function payOut(
  tx: Transaction,
  when: PostingTime,
  refund: { personId: string; chargeId: string; amountMinor: number; method: RefundMethod | undefined },
): Promise<PaidBack[]> {
  const parts = await refundParts(tx, refund.chargeId, refund.amountMinor);
  await lockVouchers(
    tx,
    parts.flatMap(({ voucherId }) => voucherId ?? []),
  );
  const paidBack: PaidBack[] = [];
  for (const part of parts)
    paidBack.push(
      part.voucherId === null
        ? await inMoney(tx, when, { ...refund, amountMinor: part.amountMinor })
        : await onVoucher(tx, when, { ...refund, voucherId: part.voucherId, amountMinor: part.amountMinor }),
    );
  return paidBack;
}

type Going = { personId: string; chargeId: string; amountMinor: number };

async function inMoney(
  tx: Transaction,
  when: PostingTime,
  { method, ...going }: Going & { method: RefundMethod | undefined },
): Promise<PaidBack> {
  if (method === undefined)
    throw new Problem('invalid-request', 'A refund is due. Say how it is paid: in cash, by card or by transfer.', {
      errors: [{ pointer: '#/method', detail: 'is required: cash, card or transfer' }],
      refundMinor: going.amountMinor,
    });
  if (method === 'credit') return asCredit(tx, when, going);
  const { amountMinor } = going;
  await record(tx, when, going, method, [{ account: DRAWER[method], amountMinor: -amountMinor }]);
  return { amountMinor, method, voucher: null };
}

/** Kept for them on a voucher of their own, which is taxed when it is used. */
async function asCredit(tx: Transaction, when: PostingTime, going: Going): Promise<PaidBack> {
  const { personId, amountMinor } = going;
  const row = await issueVoucher(tx, when.at, when.on, {
    ...{ buyerId: personId, amountMinor, forWhom: null, goodFor: null, validUntil: null, tax: null, because: 'credit' },
  });
  return { ...(await onVoucher(tx, when, { ...going, voucherId: row.id })), isCredit: true };
}

async function onVoucher(tx: Transaction, when: PostingTime, going: Going & { voucherId: string }): Promise<PaidBack> {
  const paid = await tx.voucher.findUniqueOrThrow({ where: { id: going.voucherId } });
  const isNew = isExpired(await asExtended(tx, paid), when.on);
  const { amountMinor } = going;
  const row = isNew ? await insteadOf(tx, when, paid, going) : paid;
  const tax = taxWhenSold(row);
  const leftMinor = (await getRemainingOn(tx, [row.id])).get(row.id) ?? 0;
  const lines = voucherLines(leftMinor, amountMinor, tax);
  const entryId = await record(tx, when, going, 'voucher', lines);
  await recordMove(tx, when.on, { voucherId: row.id, kind: 'returned', amountMinor, entryId });
  const taxed = tax === null ? 'when-used' : 'when-sold';
  return { amountMinor, method: 'voucher', voucher: { code: row.code, isNew, taxed } };
}

/** A voucher for whom the money goes back to, valid for as long as the one that paid was when it was issued. */
function insteadOf(tx: Transaction, when: PostingTime, paid: VoucherRow, going: Going): Promise<VoucherRow> {
  const { taxName, taxKind, taxPercent, validUntil, issuedOn, goodFor } = paid;
  const days = validUntil === null ? null : daysBetween(fromDate(issuedOn), fromDate(validUntil));
  return issueVoucher(tx, when.at, when.on, {
    buyerId: going.personId,
    amountMinor: going.amountMinor,
    forWhom: null,
    goodFor,
    validUntil: days === null ? null : addDays(when.on, days),
    tax: taxName === null || taxKind === null ? null : { taxName, taxKind, taxPercent: taxPercent?.toFixed() ?? null },
    because: 'instead-of-expired',
  });
}

async function record(tx: Transaction, when: PostingTime, going: Going, method: PaymentMethod, lines: LedgerLine[]) {
  const { personId, chargeId, amountMinor } = going;
  const entryId = await postEntry(tx, when, {
    description: `Paid back, ${method}`,
    lines: [{ account: 'receivable', personId, amountMinor }, ...lines],
  });
  const payment = { id: newId(), personId, method, amountMinor: -amountMinor, entryId };
  await recordPayment(tx, when, payment, [{ chargeId, amountMinor: -amountMinor }]);
  return entryId;
}
