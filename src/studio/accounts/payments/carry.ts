import type { Transaction } from '../../../database/transaction.js';
import { newId } from '../../../http/ids.js';
import { Problem } from '../../../problems.js';
import { payParts, sameTax } from '../../../trade/money/tax.js';
import { taxPoint } from '../../../trade/money/tax-point.js';
import { getPerson } from '../../people/service.js';
import { type ChargePart, getChargeWithState, stillDue } from '../charges/charge-state.js';
import { partInWords } from '../charges/tax-parts.js';
import { getPostingTime, type PostingTime, postEntry } from '../ledger.js';
import { taxWhenSold } from '../vouchers/document.js';
import { issueReceipt, type ReceiptLine } from './receipts.js';
import { type PaidBack, recordPayment } from './record-payment.js';
import { refundParts } from './refunds.js';

/** What is carried, with the voucher that it was paid with, if one was. */
type Part = Pick<PaidBack, 'amountMinor' | 'voucher'> & { voucherId: string | null };

/**
 * Takes what was paid off a charge, once that part has been credited, for another charge to be paid with it: what was paid last first.
 * It waits among what is held for what is still to come, and carryIn of the same transaction takes it from there.
 */
export async function carryOut(
  tx: Transaction,
  when: PostingTime,
  { personId, chargeId, amountMinor }: { personId: string; chargeId: string; amountMinor: number },
): Promise<{ outId: string; parts: Part[] }> {
  const parts = (await refundParts(tx, chargeId, amountMinor)).reverse(); // the first paid first, as on the charge
  const entryId = await postEntry(tx, when, {
    description: 'Carried over to another booking',
    lines: [
      { account: 'receivable', personId, amountMinor },
      { account: 'deposits-held', amountMinor: -amountMinor },
    ],
  });
  const outId = newId();
  const taken = { id: outId, personId, method: 'carried' as const, amountMinor: -amountMinor, entryId };
  await recordPayment(tx, when, taken, [{ chargeId, amountMinor: -amountMinor }]);
  const vouchers = await tx.voucher.findMany({
    where: { id: { in: parts.flatMap(({ voucherId }) => voucherId ?? []) } },
  });
  return {
    outId,
    parts: parts.map(({ voucherId, amountMinor: partMinor }) => {
      const voucher = vouchers.find(({ id }) => id === voucherId);
      const taxed = voucher && taxWhenSold(voucher) !== null ? 'when-sold' : 'when-used';
      return {
        ...{ voucherId, amountMinor: partMinor },
        voucher: voucher ? { code: voucher.code, isNew: false, taxed } : null,
      };
    }),
  };
}

type Coming = {
  chargeId: string;
  outId: string;
  parts: readonly Part[];
  /** what was paid before, and the credit note that takes it back */
  from: { what: string; creditNote: string };
};

/** Pays of a charge what carryOut took off another, with its VAT and a receipt, which the caller sends. */
export async function carryIn(
  tx: Transaction,
  now: Date,
  { chargeId, outId, parts, from }: Coming,
): Promise<{ receiptNumber: string; documentId: string }> {
  const when = await getPostingTime(tx, now);
  const charge = await getChargeWithState(tx, chargeId);
  const { row, state, instalments } = charge;
  await refuseOtherTax(tx, charge, parts);
  const amountMinor = parts.reduce((sum, part) => sum + part.amountMinor, 0);
  const vatMinor = payParts(charge.parts, state.paidMinor, amountMinor).reduce((sum, part) => sum + part.vatMinor, 0);
  const entryId = await postEntry(tx, when, {
    description: `Carried over: ${row.description}`,
    lines: [
      { account: 'receivable', personId: row.personId, amountMinor: -amountMinor },
      { account: 'billed-in-advance', amountMinor },
      { account: 'vat', amountMinor: -vatMinor },
      { account: 'deposits-held', amountMinor: vatMinor },
    ],
  });
  const inId = newId();
  const paid = { id: inId, personId: row.personId, method: 'carried' as const, amountMinor, entryId };
  await recordPayment(tx, when, paid, [{ chargeId, amountMinor }]);
  await tx.paymentCarry.create({ data: { outId, inId } });
  await tx.paymentCarryPart.createMany({
    data: parts.map(({ voucherId, amountMinor: partMinor }, i) => ({
      ...{ outId, ordinal: i + 1, voucherId, amountMinor: partMinor },
    })),
  });
  const due = stillDue(instalments, state.creditedMinor + state.paidMinor + amountMinor);
  return issueReceipt(tx, now, {
    ...{ paymentId: inId, payer: await getPerson(tx, row.personId), method: 'carried', carriedFrom: from },
    lines: receiptLines(charge, parts, when.on),
    supplies: [{ description: row.description, amountMinor, state, stillDue: due }],
  });
}

type Charged = Awaited<ReturnType<typeof getChargeWithState>>;

/** A line for each tax. What was taxed when its voucher was sold bears no VAT again, as where the voucher pays. */
function receiptLines({ row, state, parts: taxes }: Charged, parts: readonly Part[], on: string): ReceiptLine[] {
  const { description, quantity } = row;
  const askedMinor = state.grossMinor - state.creditedMinor;
  const whole = payParts(taxes, 0, askedMinor).map((all) => all.amountMinor - all.vatMinor);
  let paidMinor = state.paidMinor;
  return parts.flatMap(({ amountMinor, voucher }): ReceiptLine[] => {
    const paid = payParts(taxes, paidMinor, amountMinor);
    paidMinor += amountMinor;
    if (voucher?.taxed === 'when-sold') {
      const tax = { kind: 'with-voucher' } as const;
      return [{ description, quantity, amountMinor, vatMinor: 0, tax, taxPoint: null, priceNetMinor: askedMinor }];
    }
    return paid
      .map((of, i) => ({ ...of, priceNetMinor: whole[i] ?? 0 }))
      .filter((of) => of.amountMinor > 0)
      .map(({ part, ...of }) => ({
        ...{ description: partInWords(description, part), quantity, tax: part.tax, ...of },
        taxPoint: part.tax.kind === 'standard' ? taxPoint(null, on) : null,
      }));
  });
}

/** What was taxed when its voucher was sold can pay only for what bears the same tax. */
async function refuseOtherTax(tx: Transaction, { row, parts: taxes }: Charged, parts: readonly Part[]): Promise<void> {
  const ids = parts.flatMap(({ voucherId, voucher }) =>
    voucherId && voucher?.taxed === 'when-sold' ? [voucherId] : [],
  );
  const bears = (other: ChargePart['tax']) =>
    taxes.filter(({ grossMinor }) => grossMinor > 0).every(({ tax }) => sameTax(tax, other));
  for (const voucher of await tx.voucher.findMany({ where: { id: { in: ids } } })) {
    const tax = taxWhenSold(voucher);
    if (tax === null || bears(tax)) continue;
    throw new Problem(
      'voucher-other-tax',
      `It was paid with a voucher that was taxed as ${voucher.taxName} when it was sold, and “${row.description}” is taxed as ${[...new Set(taxes.map(({ taxName }) => taxName))].join(' and ')}. Cancel the booking instead, with a refund on the voucher, and book again.`,
    );
  }
}
