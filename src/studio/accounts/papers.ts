import type { Transaction } from '../../database/transaction.js';
import { fromDate } from '../../database/values.js';
import type { CreditNoteContent } from '../../documents/credit-note-content.js';
import { ReceiptContent } from '../../documents/receipt-content.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar.js';
import { formatMoney } from '../../trade/money.js';
import { simplifiedInvoiceAllowed, type TaxTreatment, vatOfPart } from '../../trade/tax.js';
import { issueDocument, notify } from '../notices/service.js';
import type { Person } from '../people/contract.js';
import type { Studio } from '../settings/contract.js';
import { studio } from '../settings/service.js';
import { chargeWithState } from './charge.js';
import type { PaymentMethod } from './contract.js';
import { type ChargeState, nextNumber } from './queries.js';

/** What one payment pays of one charge; `state` is how the charge stood before it. */
export type PaidPart = {
  chargeId: string;
  description: string;
  taxName: string;
  amountMinor: number;
  vatMinor: number;
  tax: TaxTreatment;
  state: ChargeState;
  isDeposit: boolean;
  /** when the rest is due; null where nothing is left */
  payBy: string | null;
};

/** Issues the receipt of a payment, gapless in its series, and sends it to the payer. */
export async function issueReceipt(
  tx: Transaction,
  now: Date,
  paid: { paymentId: string; payer: Person; method: PaymentMethod; parts: PaidPart[] },
): Promise<{ receiptNumber: string; documentId: string }> {
  const home = await studio(tx);
  const kind = receiptKind(home, paid.payer, paid.parts);
  const number = await nextNumber(tx, 'R');
  const receiptNumber = numbered('R', number);
  const content = receiptContent(home, localDay(now, home.timeZone), kind, receiptNumber, paid);
  const fileName = `receipt-${receiptNumber.toLowerCase()}.pdf`;
  const documentId = await issueDocument(tx, now, { kind: 'receipt', fileName, content });
  await tx.receipt.create({ data: { series: 'R', number, paymentId: paid.paymentId, documentId } });
  const amount = formatMoney(content.totalMinor, home.currency, home.locale);
  await notify(tx, now, { personId: paid.payer.id, occasion: 'receipt', documentId, data: { receiptNumber, amount } });
  return { receiptNumber, documentId };
}

/** Issues the credit note of a refund, which takes its VAT back with it, and sends it. */
export async function issueCreditNote(
  tx: Transaction,
  now: Date,
  credit: {
    creditId: string;
    chargeId: string;
    refundMinor: number;
    paidMinor: number;
    method: PaymentMethod;
    reason: string;
  },
): Promise<void> {
  const home = await studio(tx);
  const { row, tax } = await chargeWithState(tx, credit.chargeId);
  const payer = await tx.person.findUniqueOrThrow({ where: { id: row.personId } });
  const receipts = await tx.receipt.findMany({
    where: { payment: { allocations: { some: { chargeId: credit.chargeId } } } },
    orderBy: { number: 'asc' },
    include: { payment: true, document: true },
  });
  const kinds = receipts.map((r) => ReceiptContent.parse(r.document.content).kind);
  const kind = kinds.includes('vat-full') ? 'vat-full' : (kinds[0] ?? 'receipt');
  if (kind === 'vat-full' && payer.addressLines.length === 0) throw addressMissing(payer.name);
  const vatMinor = -vatOfPart(credit.paidMinor, -credit.refundMinor, tax);
  const number = await nextNumber(tx, 'C');
  const today = localDay(now, home.timeZone);
  const content: CreditNoteContent = {
    ...head(home),
    kind,
    number: numbered('C', number),
    issuedOn: today,
    corrects: receipts.map((r) => ({ number: numbered('R', r.number), issuedOn: fromDate(r.payment.receivedOn) })),
    customer: { name: payer.name, addressLines: payer.addressLines },
    reason: credit.reason,
    settlement: { how: 'paid-back', method: credit.method, on: today },
    lines: [vatLine(row.description, credit.refundMinor, vatMinor, tax)],
    totalMinor: credit.refundMinor,
  };
  const fileName = `credit-note-${content.number.toLowerCase()}.pdf`;
  const documentId = await issueDocument(tx, now, { kind: 'creditNote', fileName, content });
  await tx.creditNote.create({ data: { series: 'C', number, creditId: credit.creditId, documentId } });
  const amount = formatMoney(credit.refundMinor, home.currency, home.locale);
  const data = { creditNoteNumber: content.number, amount, reason: credit.reason };
  await notify(tx, now, { personId: payer.id, occasion: 'refund', documentId, data });
}

export const numbered = (series: 'R' | 'C', number: number): string => `${series}-${String(number).padStart(6, '0')}`;

/** Which paper the law lets stand for this payment; see ReceiptContent. */
function receiptKind(home: Studio, payer: Person, parts: PaidPart[]): ReceiptContent['kind'] {
  const taxed = parts.filter((part) => part.tax.kind === 'standard');
  if (home.vatNumber === null || taxed.length === 0) return 'receipt';
  const simple = parts.every(
    (part) => part.tax.kind === 'standard' && simplifiedInvoiceAllowed(part.state.grossMinor, home.invoiceLimitMinor),
  );
  if (simple) return 'vat-simplified';
  if (payer.addressLines.length > 0) return 'vat-full';
  throw addressMissing(payer.name);
}

const addressMissing = (name: string) =>
  new Problem(
    'address-missing',
    `This paper must name where ${name} lives: it is above the limit of a simplified VAT invoice, or not all of it bears VAT. Enter the address, then send this again; nothing was booked.`,
  );

function receiptContent(
  home: Studio,
  today: string,
  kind: ReceiptContent['kind'],
  number: string,
  paid: { payer: Person; method: PaymentMethod; parts: PaidPart[] },
): ReceiptContent {
  const { payer, method, parts } = paid;
  const content = {
    ...head(home),
    number,
    issuedOn: today,
    receivedOn: today,
    payer: { name: payer.name, addressLines: payer.addressLines },
    method,
    lines: parts.map((part) => vatLine(part.description, part.amountMinor, part.vatMinor, part.tax)),
    totalMinor: parts.reduce((sum, part) => sum + part.amountMinor, 0),
    supplies: parts.map(({ description, amountMinor, state, payBy }) => ({
      description,
      priceMinor: state.grossMinor - state.creditedMinor,
      paidBeforeMinor: state.paidMinor,
      paidNowMinor: amountMinor,
      stillToPayMinor: state.owedMinor - amountMinor,
      payBy,
    })),
  };
  return kind === 'vat-simplified'
    ? { ...content, kind, simplifiedLimitMinor: home.invoiceLimitMinor }
    : { ...content, kind };
}

/** What every paper says of the studio. */
export function head(home: Studio) {
  const { name, addressLines, email, phone, vatNumber, currency, locale } = home;
  return {
    studio: {
      name,
      addressLines,
      ...(email === null ? {} : { email }),
      ...(phone === null ? {} : { phone }),
      ...(vatNumber === null ? {} : { vatNumber }),
    },
    currency,
    locale,
    language: 'en' as const,
  };
}

function vatLine(description: string, grossMinor: number, vatMinor: number, tax: TaxTreatment) {
  const label = { standard: 'VAT', exempt: 'exempt from VAT', outside: 'outside VAT' }[tax.kind];
  return {
    description,
    quantity: 1,
    grossMinor,
    vatMinor,
    netMinor: grossMinor - vatMinor,
    vatPercent: tax.kind === 'standard' ? tax.percent : null,
    taxLabel: tax.kind === 'standard' ? `${label} ${tax.percent} %` : label,
  };
}
