import type { Transaction } from '../../../database/transaction.js';
import { newId } from '../../../http/ids.js';
import { Problem } from '../../../problems.js';
import { type PartPaid, payParts } from '../../../trade/money/tax.js';
import { taxPoint } from '../../../trade/money/tax-point.js';
import { getPerson } from '../../people/service.js';
import { getStudio } from '../../settings/service.js';
import { assertAmount } from '../charges/assert-amount.js';
import { type ChargePart, getChargeWithState, stillDue, suppliedOn } from '../charges/charge-state.js';
import { partInWords } from '../charges/tax-parts.js';
import type { NewPayment, Payment } from '../contract.js';
import { getPostingTime, type LedgerLine, postEntry } from '../ledger.js';
import { type ChargeState, lockCharges } from '../queries.js';
import { recordMove, type Tender, tenderVoucher, voucherLines } from '../vouchers/moves.js';
import { issueReceipt, partOfQuantity, type ReceiptLine, type StillDue } from './receipts.js';
import { DRAWER, recordPayment } from './record-payment.js';

/**
 * Takes a payment for one or more charges of one person and issues its receipt. Charges are locked first, so that the same money
 * taken at two tills is refused at the second.
 */
export async function takePayment(tx: Transaction, now: Date, wanted: NewPayment): Promise<Payment> {
  const payer = await getPerson(tx, wanted.personId);
  const chargeIds = wanted.for.map((part) => part.chargeId);
  if (new Set(chargeIds).size < chargeIds.length)
    throw new Problem('invalid-request', 'A charge is named twice. Add its amounts up and name it once.');
  await lockCharges(tx, chargeIds);
  const when = await getPostingTime(tx, now);
  const parts = [];
  for (const [i, of] of wanted.for.entries())
    parts.push(await partOf(tx, when.on, payer.id, { ...of, at: `#/for/${i}` }));

  const amountMinor = parts.reduce((sum, part) => sum + part.amountMinor, 0);
  assertAmount(amountMinor, await getStudio(tx));
  const { method, voucherCode } = wanted;
  const tender = voucherCode === undefined ? null : await tenderVoucher(tx, when.on, voucherCode, parts);
  const entryId = await postEntry(tx, when, {
    description: `Paid by ${payer.name}, ${method}`,
    lines: [
      ...paidFrom(method, tender, amountMinor),
      { account: 'receivable', personId: payer.id, amountMinor: -amountMinor },
      ...parts.flatMap((part) => ofDeposit(part)),
    ],
  });
  const paymentId = newId();
  await recordPayment(tx, when, { id: paymentId, personId: payer.id, method, amountMinor, entryId }, parts);
  if (tender)
    await recordMove(tx, when.on, { voucherId: tender.row.id, kind: 'used', amountMinor: -amountMinor, entryId });
  const receipt = await issueReceipt(tx, now, {
    ...{ paymentId, payer, method },
    lines: parts.flatMap((part) => receiptLines(part, tender)),
    supplies: parts,
    ...paidWith(tender, amountMinor),
  });
  const voucherLeftMinor = tender && tender.leftMinor - amountMinor;
  return { id: paymentId, personId: payer.id, amountMinor, method, ...receipt, voucherLeftMinor };
}

function paidFrom(method: NewPayment['method'], tender: Tender | null, amountMinor: number): LedgerLine[] {
  if (tender) return voucherLines(tender.leftMinor, -amountMinor, tender.tax);
  if (method !== 'voucher') return [{ account: DRAWER[method], amountMinor }];
  throw new Problem('invalid-request', 'Give the code of the voucher that pays.', {
    errors: [{ pointer: '#/voucherCode', detail: 'is required' }],
  });
}

/** A line for each tax. What was taxed when its voucher was sold bears no VAT again, and its receipt is no second VAT invoice. */
function receiptLines({ description, quantity, amountMinor, ...paid }: Part, tender: Tender | null): ReceiptLine[] {
  if (tender && tender.tax !== null) {
    const priceNetMinor = paid.state.grossMinor - paid.state.creditedMinor;
    const tax = { kind: 'with-voucher' } as const;
    return [{ description, quantity, amountMinor, vatMinor: 0, tax, taxPoint: null, priceNetMinor }];
  }
  return paid.taxed
    .filter((of) => of.amountMinor > 0)
    .map(({ part, ...of }) => ({
      ...{ description: partInWords(description, part), quantity, tax: part.tax, ...of },
      taxPoint: part.tax.kind === 'standard' ? paid.taxPoint : null,
    }));
}

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
  quantity: number;
  amountMinor: number;
  vatMinor: number;
  /** what it pays of each part of the charge, and what that part costs without VAT when all of it is paid */
  taxed: (PartPaid<ChargePart> & { priceNetMinor: number })[];
  state: ChargeState;
  isDeposit: boolean;
  taxPoint: string;
  /** what is left to pay, day by day */
  stillDue: StillDue;
};

async function partOf(
  tx: Transaction,
  paidOn: string,
  personId: string,
  { chargeId, amountMinor, at }: NewPayment['for'][number] & { at: string },
): Promise<Part> {
  const { row, state, parts, instalments } = await getChargeWithState(tx, chargeId);
  if (row.personId !== personId)
    throw new Problem(
      'not-found',
      `"${row.description}" is owed by somebody else. Take the payment from that person.`,
      { errors: [{ pointer: `${at}/chargeId`, detail: 'is owed by somebody else' }] },
    );
  if (state.owedMinor === 0)
    throw new Problem('nothing-owed', `"${row.description}" is already paid. If it was paid twice, refund it.`, {
      errors: [{ pointer: `${at}/chargeId`, detail: 'is already paid' }],
    });
  if (amountMinor > state.owedMinor)
    throw new Problem('more-than-owed', `Less than that is owed for "${row.description}". Take at most what is owed.`, {
      owedMinor: state.owedMinor,
      errors: [{ pointer: `${at}/amountMinor`, detail: 'is more than is owed' }],
    });
  const paid = payParts(parts, state.paidMinor, amountMinor);
  const askedMinor = state.grossMinor - state.creditedMinor;
  const whole = payParts(parts, 0, askedMinor).map((all) => all.amountMinor - all.vatMinor);
  const supplied = suppliedOn(row);
  return {
    ...{ chargeId, description: row.description, amountMinor, state },
    quantity: partOfQuantity(row.quantity, askedMinor, state.grossMinor),
    vatMinor: paid.reduce((sum, part) => sum + part.vatMinor, 0),
    taxed: paid.map((of, i) => ({ ...of, priceNetMinor: whole[i] ?? 0 })).filter(({ part }) => part.grossMinor > 0),
    isDeposit: supplied === null,
    taxPoint: taxPoint(supplied, paidOn),
    stillDue: stillDue(instalments, state.creditedMinor + state.paidMinor + amountMinor),
  };
}

/** Money for what is still to come is held net of its VAT, whose tax point is the payment. */
function ofDeposit(part: Part): LedgerLine[] {
  if (!part.isDeposit) return [];
  return [
    { account: 'billed-in-advance', amountMinor: part.amountMinor },
    { account: 'vat', amountMinor: -part.vatMinor },
    { account: 'deposits-held', amountMinor: -(part.amountMinor - part.vatMinor) },
  ];
}
