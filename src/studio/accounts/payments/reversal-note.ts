import type { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';
import { fromDate } from '../../../database/values.js';
import type { CreditNoteContent } from '../../../documents/credit-note-content.js';
import { ReceiptContent } from '../../../documents/receipt-content.js';
import { Problem } from '../../../problems.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import { formatMoney } from '../../../trade/money/money.js';
import { voucherCodeInWords } from '../../../trade/text/voucher-code.js';
import { issueDocument, notify } from '../../notices/service.js';
import { getPerson, printedName } from '../../people/service.js';
import { getPaperHead } from '../../settings/paper-head.js';
import { getStudio } from '../../settings/service.js';
import type { getChargeWithState } from '../charges/charge-state.js';
import { creditLines, customerOf } from '../charges/credit-notes.js';
import { takeNextNumber } from '../queries.js';
import { taxWhenSold, type VoucherRow } from '../vouchers/document.js';
import { addressMissing, numbered, partOfQuantity } from './receipts.js';
import type { PaidBack } from './record-payment.js';

/** What a payment had paid of one charge; `state` is how the charge stood before it was taken back. */
export type ReversedPart = Awaited<ReturnType<typeof getChargeWithState>> & { amountMinor: number; vatMinor: number };

type Reversed = {
  payment: Prisma.PaymentGetPayload<{ include: { receipt: { include: { document: true } } } }>;
  parts: readonly ReversedPart[];
  reason: string;
  voucher: VoucherRow | null;
};

/** Issues the credit note that takes a receipt back with its VAT, and sends it. Take it last: it takes a number. */
export async function issueReversalNote(
  tx: Transaction,
  now: Date,
  { payment, parts, reason, voucher }: Reversed,
): Promise<{ creditNoteNumber: string; documentId: string }> {
  const { receipt, id: paymentId, personId, amountMinor, method } = payment;
  if (!receipt) throw new Problem('not-reversible', 'This payment has no receipt that could be taken back.');
  const studio = await getStudio(tx);
  const payer = await getPerson(tx, personId);
  const paper = ReceiptContent.parse(receipt.document.content);
  const taxed = voucher && taxWhenSold(voucher) === null ? 'when-used' : 'when-sold';
  const onVoucher: PaidBack['voucher'] = voucher && { code: voucher.code, isNew: false, taxed };
  const lines = parts.flatMap(({ row, state, parts: taxes, ...part }) => {
    const asked = state.grossMinor - state.creditedMinor;
    const quantity = partOfQuantity(row.quantity, asked, state.grossMinor);
    const paidBack = [{ amountMinor: part.amountMinor, method, voucher: onVoucher }];
    return creditLines(row.description, { quantity, paidMinor: state.paidMinor, paidBack }, taxes);
  });
  const kind = lines.some((line) => line.vatPercent !== null) ? paper.kind : 'receipt';
  const customer = customerOf({ name: printedName(payer), addressLines: payer.addressLines }, [paper]);
  if (kind === 'vat-full' && customer.addressLines.length === 0) throw addressMissing(payer.name);
  const number = await takeNextNumber(tx, 'C');
  const receiptNumber = numbered('R', receipt.number);
  const content: CreditNoteContent = {
    ...(await getPaperHead(tx)),
    kind,
    number: numbered('C', number),
    issuedOn: localDay(now, studio.timeZone),
    corrects: [{ number: receiptNumber, issuedOn: fromDate(payment.receivedOn) }],
    customer,
    reason,
    settlement: { how: 'reversed', voucher: voucher?.code ?? null },
    lines,
    totalMinor: amountMinor,
  };
  const fileName = `credit-note-${content.number.toLowerCase()}.pdf`;
  const documentId = await issueDocument(tx, now, { kind: 'creditNote', fileName, content });
  await tx.creditNote.create({ data: { series: 'C', number, reversalOf: paymentId, documentId } });
  const data = {
    ...{ creditNoteNumber: content.number, receiptNumber, reason },
    amount: formatMoney(amountMinor, studio.currency, studio.locale),
    voucher: voucher && voucherCodeInWords(voucher.code),
    unpaid: parts.map(({ row }) => row.description),
  };
  await notify(tx, now, { personId, occasion: 'paymentReversed', documentId, data });
  return { creditNoteNumber: content.number, documentId };
}
