import type { Transaction } from '../../../database/transaction.js';
import { fromDate } from '../../../database/values.js';
import { newId } from '../../../http/ids.js';
import { page, pageArgs } from '../../../http/paging.js';
import { Problem, see } from '../../../problems.js';
import { vatInside } from '../../../trade/money/tax.js';
import { formatDay } from '../../../trade/text/format.js';
import { voucherCodeInWords } from '../../../trade/text/voucher-code.js';
import { getPerson } from '../../people/service.js';
import { getStudio, getTaxRate, taxTreatmentOf } from '../../settings/service.js';
import { getPostingTime, postEntry } from '../ledger.js';
import { issueReceipt } from '../payments/receipts.js';
import { DRAWER, recordPayment } from '../payments/record-payment.js';
import { getRemainingOn } from '../queries.js';
import type { NewVoucher, SoldVoucher, Voucher, VoucherQuery } from './contract.js';
import { isExpired, issueVoucher, taxWhenSold, type VoucherRow, type VoucherTax } from './document.js';
import { recordMove, voucherLines } from './moves.js';

/**
 * Sells a voucher: its paper, and the receipt of what was paid for it. With a tax rate its VAT is due now; without, when it is used
 * (Directive 2006/112/EC art. 30b, VATA 1994 Sch 10B). That is fixed here for good.
 *
 * @param chance makes the code; given only where a studio is invented and must come out alike each time
 */
export async function sellVoucher(
  tx: Transaction,
  now: Date,
  wanted: NewVoucher,
  chance?: (below: number) => number,
): Promise<SoldVoucher> {
  const payer = await getPerson(tx, wanted.buyerId);
  const when = await getPostingTime(tx, now);
  const { amountMinor, method, validUntil = null, forWhom = null, goodFor = null } = wanted;
  if (validUntil !== null && validUntil < when.on) {
    const { locale } = await getStudio(tx);
    throw new Problem(
      'invalid-request',
      `A voucher that ended on ${formatDay(validUntil, locale)} could not be used. Give a later day.`,
      {
        errors: [{ pointer: '#/validUntil', detail: `must be ${formatDay(when.on, locale)} or later` }],
      },
    );
  }
  const tax = await frozenTax(tx, wanted.taxRateId);
  const about = { buyerId: payer.id, amountMinor, forWhom, goodFor, validUntil, tax, because: 'bought' as const };
  const row = await issueVoucher(tx, now, when.on, about, chance);
  const taxed = taxWhenSold(row);
  const name = `Voucher ${voucherCodeInWords(row.code)}`;
  const entryId = await postEntry(tx, when, {
    description: `${name} sold to ${payer.name}, ${method}`,
    lines: [{ account: DRAWER[method], amountMinor }, ...voucherLines(0, amountMinor, taxed)],
  });
  const paymentId = newId();
  await recordPayment(tx, when, { id: paymentId, personId: payer.id, method, amountMinor, entryId }, []);
  await recordMove(tx, when.on, { voucherId: row.id, kind: 'sold', amountMinor, entryId });
  const vatMinor = taxed === null ? 0 : vatInside(amountMinor, taxed);
  const { receiptNumber, documentId } = await issueReceipt(tx, now, {
    paymentId,
    payer,
    method,
    lines: [
      {
        ...{ description: name, quantity: 1, amountMinor, vatMinor, tax: taxed ?? { kind: 'when-used' } },
        taxPoint: taxed?.kind === 'standard' ? when.on : null, // a voucher of one rate is supplied as it is sold
        priceNetMinor: amountMinor - vatMinor,
      },
    ],
    supplies: [],
  });
  const sold = show({ ...row, buyer: payer, moves: [] }, amountMinor, when.on);
  return { ...sold, paymentId, receiptNumber, receiptDocumentId: documentId };
}

async function frozenTax(tx: Transaction, taxRateId: string | null): Promise<VoucherTax> {
  if (taxRateId === null) return null;
  const rate = await getTaxRate(tx, taxRateId);
  const tax = taxTreatmentOf(await getStudio(tx), rate);
  return { taxName: rate.name, taxKind: tax.kind, taxPercent: tax.kind === 'standard' ? tax.percent : null };
}

const withBuyer = { buyer: true, moves: { where: { kind: 'lapsed' as const } } };

/** Vouchers with what is left on them; all, or that of one code. */
export async function listVouchers(tx: Transaction, today: string, query: VoucherQuery) {
  const where = { ...(query.code !== undefined && { code: query.code }) };
  const rows = await tx.voucher.findMany({ include: withBuyer, ...pageArgs(query, where) });
  const left = await getRemainingOn(
    tx,
    rows.map(({ id }) => id),
  );
  return page(rows, query, (row) => show(row, left.get(row.id) ?? 0, today));
}

/** @param today asked for once the voucher is found */
export async function getVoucher(tx: Transaction, today: () => Promise<string>, id: string): Promise<Voucher> {
  const row = await tx.voucher.findUnique({ where: { id }, include: withBuyer });
  if (!row)
    throw new Problem(
      'not-found',
      'No voucher has this id. Look for it on the page Money.',
      see('money', '/api/vouchers'),
    );
  return show(row, (await getRemainingOn(tx, [id])).get(id) ?? 0, await today());
}

function show(
  row: VoucherRow & { buyer: { name: string }; moves: { kind: string }[] },
  leftMinor: number,
  today: string,
): Voucher {
  const { id, code, buyerId, buyer, forWhom, goodFor, amountMinor, taxName, validUntil, documentId } = row;
  return {
    id,
    code,
    buyerId,
    buyerName: buyer.name,
    forWhom,
    goodFor,
    amountMinor,
    leftMinor,
    state: stateOf(row, leftMinor, today),
    taxed: row.taxKind === null ? 'when-used' : 'when-sold',
    taxName,
    issuedOn: fromDate(row.issuedOn),
    validUntil: validUntil && fromDate(validUntil),
    documentId,
  };
}

function stateOf(row: VoucherRow & { moves: unknown[] }, leftMinor: number, today: string): Voucher['state'] {
  if (leftMinor === 0) return row.moves.length > 0 ? 'lapsed' : 'used';
  return isExpired(row, today) ? 'expired' : 'open';
}
