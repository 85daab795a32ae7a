import type { Transaction } from '../../../database/transaction.js';
import { fromDate } from '../../../database/values.js';
import type { CreditNoteContent } from '../../../documents/credit-note-content.js';
import type { Party } from '../../../documents/parts.js';
import { ReceiptContent } from '../../../documents/receipt-content.js';
import type { VatLine } from '../../../documents/vat-lines.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import { formatMoneyInText } from '../../../trade/money/money.js';
import { payParts } from '../../../trade/money/tax.js';
import type { Occasion } from '../../notices/contract.js';
import { issueDocument, notify } from '../../notices/service.js';
import { getPerson, printedName } from '../../people/service.js';
import { getPaperHead } from '../../settings/paper-head.js';
import { getStudio } from '../../settings/service.js';
import { addressMissing, numbered, vatLine } from '../payments/receipts.js';
import type { PaidBack } from '../payments/record-payment.js';
import { takeNextNumber } from '../queries.js';
import { type ChargePart, getChargeWithState } from './charge-state.js';
import { partInWords } from './tax-parts.js';

/** What a credit note is sent with, where the refund is part of something of which one letter should say all. */
export type RefundLetter = (paper: { creditNoteNumber: string; paidBack: readonly PaidBack[] }) => {
  occasion: Occasion;
  data: object;
};

/** What of a charge pays for something else from now on: one part for each thing that it was paid from. */
export type Carried = { amountMinor: number; to: string; parts: readonly PaidPart[] };

/** A part of a sum, and the voucher that it came from or goes to. */
type PaidPart = Pick<PaidBack, 'amountMinor' | 'voucher'>;

/**
 * Issues the credit note of a refund, or of what is carried over, which takes its VAT back with it, and sends it. `refundMinor` is both
 * together. @returns its number
 */
export async function issueCreditNote(
  tx: Transaction,
  now: Date,
  credit: {
    creditId: string;
    chargeId: string;
    quantity: number;
    refundMinor: number;
    paidMinor: number;
    paidBack: PaidBack[];
    reason: string;
    explanation: string | null;
    letter?: RefundLetter | undefined;
    carried: Carried | null;
  },
): Promise<string> {
  const studio = await getStudio(tx);
  const { row, parts } = await getChargeWithState(tx, credit.chargeId);
  const payer = await getPerson(tx, row.personId);
  const receipts = await tx.receipt.findMany({
    where: { payment: { reversedBy: null, allocations: { some: { chargeId: credit.chargeId } } } },
    orderBy: { number: 'asc' },
    include: { payment: true, document: true },
  });
  const papers = receipts.map((r) => ReceiptContent.parse(r.document.content));
  const kinds = papers.map(({ kind }) => kind);
  const paidBack = [...credit.paidBack, ...(credit.carried?.parts ?? [])];
  const lines = creditLines(row.description, { ...credit, paidBack }, parts);
  const taxed = lines.some((line) => line.vatPercent !== null);
  const kind = taxed
    ? (kinds.find((k) => k === 'vat-full') ?? kinds.find((k) => k !== 'receipt') ?? 'receipt')
    : 'receipt';
  const customer = customerOf({ name: printedName(payer), addressLines: payer.addressLines }, papers);
  if (kind === 'vat-full' && customer.addressLines.length === 0) throw addressMissing(payer.name);
  const number = await takeNextNumber(tx, 'C');
  const today = localDay(now, studio.timeZone);
  const content: CreditNoteContent = {
    ...(await getPaperHead(tx)),
    kind,
    number: numbered('C', number),
    issuedOn: today,
    corrects: receipts.map((r) => ({ number: numbered('R', r.number), issuedOn: fromDate(r.payment.receivedOn) })),
    customer,
    reason: credit.reason,
    settlement: settlementOf(credit.paidBack, credit.carried, today),
    lines,
    totalMinor: credit.refundMinor,
  };
  const fileName = `credit-note-${content.number.toLowerCase()}.pdf`;
  const documentId = await issueDocument(tx, now, { kind: 'creditNote', fileName, content });
  await tx.creditNote.create({ data: { series: 'C', number, creditId: credit.creditId, documentId } });
  const money = (minor: number) => formatMoneyInText(minor, studio.currency, studio.locale);
  const { reason, explanation, carried } = credit;
  const { number: creditNoteNumber } = content;
  const creditMinor = credit.paidBack.reduce((sum, part) => sum + (part.isCredit ? part.amountMinor : 0), 0);
  const backMinor = credit.refundMinor - creditMinor - (carried?.amountMinor ?? 0);
  const written = credit.letter?.({ creditNoteNumber, paidBack: credit.paidBack }) ?? {
    occasion: 'refund',
    data: {
      ...{ creditNoteNumber, amount: backMinor === 0 ? null : money(backMinor) },
      ...{ reason, what: row.description, explanation },
      carried: carried && { amount: money(carried.amountMinor), to: carried.to },
      credit: creditMinor === 0 ? null : money(creditMinor),
    },
  };
  await notify(tx, now, { personId: payer.id, documentId, ...written });
  return creditNoteNumber;
}

/** Who a credit note is for: as the papers that it corrects say it, the latest first, where the address is no longer known. */
export function customerOf({ name, addressLines }: Party, papers: readonly ReceiptContent[]): Party {
  if (addressLines.length > 0) return { name, addressLines };
  const latest = papers.findLast(({ payer }) => payer.addressLines.length > 0);
  return { name, addressLines: latest?.payer.addressLines ?? [] };
}

/**
 * A line for each way in which it goes back, and for each tax. What was taxed when its voucher was sold takes no VAT back: it is on the
 * voucher again.
 */
export function creditLines(
  description: string,
  { quantity, ...credit }: { quantity: number; paidMinor: number; paidBack: readonly PaidPart[] },
  parts: readonly ChargePart[],
): VatLine[] {
  let paidMinor = credit.paidMinor;
  return credit.paidBack.flatMap(({ amountMinor, voucher }) => {
    const back = payParts(parts, paidMinor, -amountMinor);
    paidMinor -= amountMinor;
    if (voucher?.taxed === 'when-sold')
      return [vatLine({ description, quantity, amountMinor, vatMinor: 0, tax: { kind: 'with-voucher' } })];
    return back
      .filter((paid) => paid.amountMinor < 0)
      .map(({ part, ...paid }) =>
        vatLine({
          ...{ description: partInWords(description, part), quantity, tax: part.tax },
          ...{ amountMinor: -paid.amountMinor, vatMinor: 0 - paid.vatMinor },
        }),
      );
  });
}

function settlementOf(
  paidBack: readonly PaidBack[],
  carried: Carried | null,
  on: string,
): CreditNoteContent['settlement'] {
  const [only] = paidBack;
  if (only && paidBack.length === 1 && carried === null && only.method !== 'voucher')
    return { how: 'paid-back', method: only.method, on };
  return {
    how: 'in-parts',
    on,
    parts: [
      ...paidBack.map(({ amountMinor, method, voucher }) => ({
        ...{ amountMinor, method, voucher: voucher && { code: voucher.code, isNew: voucher.isNew } },
      })),
      ...(carried
        ? [{ amountMinor: carried.amountMinor, method: 'carried' as const, voucher: null, carriedTo: carried.to }]
        : []),
    ],
  };
}
