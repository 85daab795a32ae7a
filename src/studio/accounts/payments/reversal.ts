import type { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';
import { fromDate } from '../../../database/values.js';
import { newId } from '../../../http/ids.js';
import { Problem } from '../../../problems.js';
import { payParts } from '../../../trade/money/tax.js';
import { getChargeWithState, suppliedOn } from '../charges/charge-state.js';
import type { NewReversal, Reversal } from '../contract.js';
import { getPostingTime, type LedgerLine, type PostingTime, postEntry } from '../ledger.js';
import { getRemainingOn, lockCharges, lockVouchers } from '../queries.js';
import { asExtended, isExpired, taxWhenSold, type VoucherRow } from '../vouchers/document.js';
import { recordMove, voucherLines } from '../vouchers/moves.js';
import { numbered } from './receipts.js';
import { DRAWER, recordPayment } from './record-payment.js';
import { issueReversalNote, type ReversedPart } from './reversal-note.js';

const WHOLE = {
  ...{ person: true, allocations: { orderBy: { chargeId: 'asc' } } },
  receipt: { include: { document: true } },
  entry: { include: { voucherMove: { include: { voucher: true } } } },
  reversedBy: { include: { creditNote: true } },
} as const satisfies Prisma.PaymentInclude;
type Row = Prisma.PaymentGetPayload<{ include: typeof WHOLE }>;

async function readPayment(tx: Transaction, id: string): Promise<Row> {
  const row = await tx.payment.findUnique({ where: { id }, include: WHOLE });
  if (!row) throw new Problem('not-found', 'This payment does not exist. Look for it on the page Money.');
  return row;
}

/**
 * Takes back a payment that was entered by mistake, by another that names it: the books and the VAT go back to where they would be
 * without it, what it paid is owed again, and a credit note takes its receipt back. Charges are locked first, then the voucher.
 */
export async function reversePayment(
  tx: Transaction,
  now: Date,
  paymentId: string,
  { reason }: NewReversal,
): Promise<Reversal> {
  const { allocations } = await readPayment(tx, paymentId);
  await lockCharges(
    tx,
    allocations.map(({ chargeId }) => chargeId),
  );
  const row = await readPayment(tx, paymentId); // again: another may have taken it back while the locks were waited for
  await refuseReversal(tx, row);
  const when = await getPostingTime(tx, now);
  const parts: ReversedPart[] = [];
  for (const { chargeId, amountMinor } of row.allocations) {
    const charge = await getChargeWithState(tx, chargeId);
    const back = payParts(charge.parts, charge.state.paidMinor, -amountMinor);
    parts.push({ ...charge, amountMinor, vatMinor: back.reduce((sum, part) => sum - part.vatMinor, 0) });
  }
  const { personId, amountMinor, method } = row;
  const tender = await voucherAgain(tx, when, row);
  const entryId = await postEntry(tx, when, {
    description: `Payment taken back: ${reason}`,
    correctsId: row.entryId,
    lines: [
      { account: 'receivable', personId, amountMinor },
      ...(tender ? tender.lines : moneyOut(row)),
      ...parts.flatMap(depositBack),
    ],
  });
  const reversalId = newId();
  const taken = { id: reversalId, personId, method, amountMinor: -amountMinor, entryId };
  await recordPayment(
    tx,
    when,
    taken,
    row.allocations.map((a) => ({ ...a, amountMinor: -a.amountMinor })),
  );
  if (tender) await recordMove(tx, when.on, { voucherId: tender.voucher.id, kind: 'returned', amountMinor, entryId });
  await tx.paymentReversal.create({ data: { paymentId, reversalId, reason } });
  const note = await issueReversalNote(tx, now, { payment: row, parts, reason, voucher: tender?.voucher ?? null });
  const voucherLeftMinor = tender && tender.leftMinor + amountMinor;
  return { paymentId, reversalId, amountMinor, ...note, voucherLeftMinor };
}

function moneyOut({ method, amountMinor }: Row): LedgerLine[] {
  return method === 'voucher' || method === 'carried' ? [] : [{ account: DRAWER[method], amountMinor: -amountMinor }];
}

/** What was held for what is still to come is held no longer, and its VAT no longer due; what was supplied bears its VAT unpaid too. */
function depositBack({ row, amountMinor, vatMinor }: ReversedPart): LedgerLine[] {
  if (suppliedOn(row) !== null) return [];
  return [
    { account: 'billed-in-advance', amountMinor: -amountMinor },
    { account: 'vat', amountMinor: vatMinor },
    { account: 'deposits-held', amountMinor: amountMinor - vatMinor },
  ];
}

type VoucherAgain = { voucher: VoucherRow; lines: LedgerLine[]; leftMinor: number };

async function voucherAgain(
  tx: Transaction,
  when: PostingTime,
  { entry, amountMinor }: Row,
): Promise<VoucherAgain | null> {
  const voucher = entry.voucherMove?.voucher;
  if (!voucher) return null;
  await lockVouchers(tx, [voucher.id]);
  if (isExpired(await asExtended(tx, voucher), when.on))
    throw notReversible('The voucher that paid has expired since. Credit what it paid for instead, by cancelling it.');
  const leftMinor = (await getRemainingOn(tx, [voucher.id])).get(voucher.id) ?? 0;
  return { voucher, leftMinor, lines: voucherLines(leftMinor, amountMinor, taxWhenSold(voucher)) };
}

const notReversible = (sentence: string) => new Problem('not-reversible', sentence);

async function refuseReversal(tx: Transaction, row: Row): Promise<void> {
  if (row.reversedBy) {
    const number = row.reversedBy.creditNote?.number;
    throw notReversible(
      `This payment was taken back before${number === undefined ? '' : `, by credit note ${numbered('C', number)}`}.`,
    );
  }
  if (row.amountMinor < 0)
    throw notReversible('This is money that went out. If it came back, take it as a new payment.');
  if (row.method === 'carried')
    throw notReversible('This was carried over as a booking was moved. Move the booking back instead.');
  if (row.allocations.length === 0 || !row.receipt)
    throw notReversible(
      'This payment bought a voucher. Its voucher is out in the world, so it can’t be taken back here.',
    );
  const chargeIds = row.allocations.map(({ chargeId }) => chargeId);
  const refunded = await tx.allocation.findFirst({
    where: { chargeId: { in: chargeIds }, amountMinor: { lt: 0 }, payment: { reverses: null } },
    include: { charge: true, payment: true },
  });
  if (!refunded) return;
  const what = refunded.payment.method === 'carried' ? 'carried over to another booking' : 'refunded';
  throw notReversible(
    `Some of “${refunded.charge.description}” was ${what} on ${fromDate(refunded.payment.receivedOn)}, so this payment stays. Put it right by another payment or refund.`,
  );
}
