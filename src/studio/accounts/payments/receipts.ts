import type { Transaction } from '../../../database/transaction.js';
import type { PaperHead } from '../../../documents/parts.js';
import type { ReceiptContent } from '../../../documents/receipt-content.js';
import type { VatLine } from '../../../documents/vat-lines.js';
import { Problem } from '../../../problems.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import { Decimal, formatMoneyInText, roundHalfUp } from '../../../trade/money/money.js';
import { simplifiedInvoiceAllowed, type TaxTreatment } from '../../../trade/money/tax.js';
import { issueDocument, notify } from '../../notices/service.js';
import type { Person } from '../../people/contract.js';
import { printedName } from '../../people/service.js';
import type { Studio } from '../../settings/contract.js';
import { getPaperHead } from '../../settings/paper-head.js';
import { getStudio } from '../../settings/service.js';
import type { ListedMethod } from '../contract.js';
import { type ChargeState, insertReceipt, takeNextNumber } from '../queries.js';

/** How a line of a paper is taxed: as what it is for, or where a voucher is sold or used, perhaps at another time. */
type LineTax = TaxTreatment | { kind: 'with-voucher' } | { kind: 'when-used' };

type PaperLine = { description: string; quantity: number; amountMinor: number; vatMinor: number; tax: LineTax };

/**
 * What one payment is for, by tax. `priceNetMinor` is what the whole quantity costs without VAT, also where less is paid now;
 * `taxPoint` is null where no VAT falls due.
 */
export type ReceiptLine = PaperLine & { taxPoint: string | null; priceNetMinor: number };

export type StillDue = { dueOn: string; amountMinor: number }[];

/** A charge that the payment pays of, as it stood before, and what of it is due after, day by day. */
type PaidSupply = { description: string; amountMinor: number; state: ChargeState; stillDue: StillDue };

type Paid = {
  paymentId: string;
  payer: Person;
  method: ListedMethod;
  lines: ReceiptLine[];
  supplies: PaidSupply[];
  voucher?: ReceiptContent['voucher'];
  /** what it was paid for before, where no money came in; the letter of the move takes the receipt with it */
  carriedFrom?: ReceiptContent['carriedFrom'];
};

/** Issues the receipt of a payment, gapless in its series, and sends it to the payer, unless another letter brings it. */
export async function issueReceipt(
  tx: Transaction,
  now: Date,
  paid: Paid,
): Promise<{ receiptNumber: string; documentId: string }> {
  const studio = await getStudio(tx);
  const kind = receiptKind(studio, paid);
  const number = await takeNextNumber(tx, 'R');
  const receiptNumber = numbered('R', number);
  const head = await getPaperHead(tx);
  const content = receiptContent(studio, head, localDay(now, studio.timeZone), kind, receiptNumber, paid);
  const fileName = `receipt-${receiptNumber.toLowerCase()}.pdf`;
  const documentId = await issueDocument(tx, now, { kind: 'receipt', fileName, content });
  await insertReceipt(tx, { number, paymentId: paid.paymentId, documentId });
  if (paid.carriedFrom) return { receiptNumber, documentId };
  const amount = formatMoneyInText(content.totalMinor, studio.currency, studio.locale);
  const data = { receiptNumber, amount, paidFor: paid.supplies.map(({ description }) => description) };
  await notify(tx, now, { personId: paid.payer.id, occasion: 'receipt', documentId, data });
  return { receiptNumber, documentId };
}

export const numbered = (series: 'R' | 'C', number: number): string => `${series}-${String(number).padStart(6, '0')}`;

/** Which paper the law lets stand for this payment; see ReceiptContent. */
function receiptKind(studio: Studio, { payer, lines, supplies }: Paid): ReceiptContent['kind'] {
  const taxed = lines.filter((line) => line.tax.kind === 'standard');
  if (studio.vatNumber === null || taxed.length === 0) return 'receipt';
  const ofNoCharge = supplies.reduce((left, { amountMinor }) => left - amountMinor, totalOf(lines));
  const simple =
    taxed.length === lines.length &&
    [ofNoCharge, ...supplies.map(({ state }) => state.grossMinor)].every((priceMinor) =>
      simplifiedInvoiceAllowed(priceMinor, studio.invoiceLimitMinor),
    );
  if (simple) return 'vat-simplified';
  if (payer.addressLines.length > 0) return 'vat-full';
  throw addressMissing(payer.name);
}

export const addressMissing = (name: string) =>
  new Problem(
    'address-missing',
    `This paper needs the address of ${name}: it is above the limit of a simplified VAT invoice, or not all of it is taxed. Enter the address and try again; nothing was saved.`,
  );

function receiptContent(
  studio: Studio,
  head: PaperHead,
  today: string,
  kind: ReceiptContent['kind'],
  number: string,
  { payer, method, lines, supplies, voucher, carriedFrom }: Paid,
): ReceiptContent {
  const content = {
    ...head,
    number,
    issuedOn: today,
    receivedOn: today,
    payer: { name: printedName(payer), addressLines: payer.addressLines },
    method,
    ...(voucher === undefined ? {} : { voucher }),
    ...(carriedFrom === undefined ? {} : { carriedFrom }),
    lines: lines.map(({ taxPoint, priceNetMinor, ...line }) => ({ ...vatLine(line), taxPoint, priceNetMinor })),
    totalMinor: totalOf(lines),
    supplies: supplies.map(paidOf),
  };
  return kind === 'vat-simplified'
    ? { ...content, kind, simplifiedLimitMinor: studio.invoiceLimitMinor }
    : { ...content, kind };
}

const totalOf = (lines: readonly ReceiptLine[]) => lines.reduce((sum, line) => sum + line.amountMinor, 0);

const paidOf = ({ description, amountMinor, state, stillDue }: PaidSupply) => ({
  description,
  priceMinor: state.grossMinor - state.creditedMinor,
  paidBeforeMinor: state.paidMinor,
  paidNowMinor: amountMinor,
  stillToPayMinor: state.owedMinor - amountMinor,
  payBy: stillDue[0]?.dueOn ?? null,
  ...(stillDue.length > 1 && { stillDue }),
});

const TAX_LABELS: Record<LineTax['kind'], string> = {
  standard: 'VAT',
  exempt: 'exempt from VAT',
  outside: 'outside the scope of VAT',
  'with-voucher': 'VAT paid on voucher',
  'when-used': 'no VAT yet (multi-purpose voucher)',
};

/** A line of a receipt or credit note; what it holds beyond a VatLine is left to the caller. */
export function vatLine({ description, quantity, amountMinor, vatMinor, tax }: PaperLine): VatLine {
  const label = TAX_LABELS[tax.kind];
  return {
    ...{ description, quantity, grossMinor: amountMinor, vatMinor, netMinor: amountMinor - vatMinor },
    vatPercent: tax.kind === 'standard' ? tax.percent : null,
    taxLabel: tax.kind === 'standard' ? `${label} ${tax.percent}%` : label,
  };
}

/** How many of a charge so much of its price stands for, as near as whole ones come: what was credited is no longer charged for. */
export function partOfQuantity(quantity: number, amountMinor: number, grossMinor: number): number {
  return Math.max(1, roundHalfUp(new Decimal(quantity).times(amountMinor).div(grossMinor)));
}
