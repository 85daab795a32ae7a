import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { type TaxTreatment, vatOfPart } from '../../trade/tax.js';
import { person } from '../people/service.js';
import { chargeWithState, nextDue } from './charge.js';
import type { NewPayment, Payment } from './contract.js';
import { type Line, post, whenOf } from './journal.js';
import { issueReceipt, type ReceiptLine } from './papers.js';
import { DRAWER, recordPayment } from './payment-record.js';
import { type ChargeState, lockCharges } from './queries.js';
import { recordMove, type Tender, tenderVoucher, voucherLines } from './voucher-moves.js';

/**
 * Takes a payment for one or more charges of one person and issues its receipt. Charges are locked first, so that the same money
 * taken at two tills is refused at the second.
 */
export async function takePayment(tx: Transaction, now: Date, wanted: NewPayment): Promise<Payment> {
  const payer = await person(tx, wanted.personId);
  const chargeIds = wanted.for.map((part) => part.chargeId);
  if (new Set(chargeIds).size < chargeIds.length)
    throw new Problem('invalid-request', 'A charge is named twice. Add its amounts up and name it once.');
  await lockCharges(tx, chargeIds);
  const parts = [];
  for (const { chargeId, amountMinor } of wanted.for) parts.push(await partOf(tx, payer.id, chargeId, amountMinor));

  const amountMinor = parts.reduce((sum, part) => sum + part.amountMinor, 0);
  const when = await whenOf(tx, now);
  const { method, voucherCode } = wanted;
  const tender = voucherCode === undefined ? null : await tenderVoucher(tx, when.on, voucherCode, parts);
  const entryId = await post(tx, when, {
    description: `Paid by ${payer.name}, ${method}`,
    lines: [
      ...paidFrom(method, tender, amountMinor),
      { account: 'receivable', personId: payer.id, amountMinor: -amountMinor },
      ...parts.flatMap((part) => taxPoint(part)),
    ],
  });
  const paymentId = newId();
  await recordPayment(tx, when, { id: paymentId, personId: payer.id, method, amountMinor, entryId }, parts);
  if (tender)
    await recordMove(tx, when.on, { voucherId: tender.row.id, kind: 'used', amountMinor: -amountMinor, entryId });
  const lines = parts.map((part) => receiptLine(part, tender));
  const receipt = await issueReceipt(tx, now, { paymentId, payer, method, lines, ...paidWith(tender, amountMinor) });
  const voucherLeftMinor = tender && tender.leftMinor - amountMinor;
  return { id: paymentId, personId: payer.id, amountMinor, method, ...receipt, voucherLeftMinor };
}

function paidFrom(method: NewPayment['method'], tender: Tender | null, amountMinor: number): Line[] {
  if (tender) return voucherLines(tender.leftMinor, -amountMinor, tender.tax);
  if (method !== 'voucher') return [{ account: DRAWER[method], amountMinor }];
  throw new Problem('invalid-request', 'Say in `voucherCode` which voucher pays.');
}

/** What was taxed when its voucher was sold bears no VAT again, and its receipt is no second VAT invoice. */
const receiptLine = (
  { description, amountMinor, vatMinor, tax, state, payBy }: Part,
  tender: Tender | null,
): ReceiptLine =>
  tender && tender.tax !== null
    ? { description, amountMinor, vatMinor: 0, tax: { kind: 'with-voucher' }, supply: { state, payBy } }
    : { description, amountMinor, vatMinor, tax, supply: { state, payBy } };

const paidWith = (tender: Tender | null, amountMinor: number) =>
  tender === null
    ? {}
    : {
        voucher: {
          code: tender.row.code,
          leftMinor: tender.leftMinor - amountMinor,
          taxed: tender.tax === null ? ('when-used' as const) : ('when-sold' as const),
        },
      };

/** What one payment pays of one charge; `state` is how the charge stood before it. */
type Part = {
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

async function partOf(tx: Transaction, personId: string, chargeId: string, amountMinor: number): Promise<Part> {
  const { row, state, tax } = await chargeWithState(tx, chargeId);
  if (row.personId !== personId)
    throw new Problem('not-found', `"${row.description}" is owed by somebody else. Take the payment from that person.`);
  if (state.owedMinor === 0)
    throw new Problem('nothing-owed', `"${row.description}" is settled. If money came in twice, give it back.`);
  if (amountMinor > state.owedMinor)
    throw new Problem('more-than-owed', `"${row.description}" leaves less to pay. Take at most what owedMinor says.`, {
      owedMinor: state.owedMinor,
    });
  const vatMinor = vatOfPart(state.paidMinor, amountMinor, tax);
  const isDeposit = row.inAdvance && row.supply === null;
  const payBy = await nextDue(tx, chargeId, state.creditedMinor + state.paidMinor + amountMinor);
  return {
    chargeId,
    description: row.description,
    taxName: row.taxName,
    amountMinor,
    vatMinor,
    tax,
    state,
    isDeposit,
    payBy,
  };
}

/** Money for what is still to come is held net of its VAT, which is due as it is paid. */
function taxPoint(part: Part): Line[] {
  if (!part.isDeposit) return [];
  return [
    { account: 'billed-in-advance', amountMinor: part.amountMinor },
    { account: 'vat', amountMinor: -part.vatMinor },
    { account: 'deposits-held', amountMinor: -(part.amountMinor - part.vatMinor) },
  ];
}
