import { inOrder } from '../../../database/find-page.js';
import type { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';
import { fromDate } from '../../../database/values.js';
import { newId } from '../../../http/ids.js';
import { Problem, see } from '../../../problems.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import { vatInside } from '../../../trade/money/tax.js';
import { formatDay } from '../../../trade/text/format.js';
import { voucherCodeInWords } from '../../../trade/text/voucher-code.js';
import { getPerson } from '../../people/service.js';
import { getStudio, getTaxRate, taxTreatmentOf } from '../../settings/service.js';
import { getPostingTime, postEntry } from '../ledger.js';
import { issueReceipt } from '../payments/receipts.js';
import { DRAWER, recordPayment } from '../payments/record-payment.js';
import type { NewVoucher, SoldVoucher, Voucher, VoucherEvent, VoucherQuery } from './contract.js';
import { isExpired, issueVoucher, taxWhenSold, type VoucherRow, type VoucherTax } from './document.js';
import { recordMove, voucherLines } from './moves.js';
import { findVouchers } from './queries.js';

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
  const sold = await getVoucher(tx, async () => when.on, row.id);
  return { ...sold, paymentId, receiptNumber, receiptDocumentId: documentId };
}

async function frozenTax(tx: Transaction, taxRateId: string | null): Promise<VoucherTax> {
  if (taxRateId === null) return null;
  const rate = await getTaxRate(tx, taxRateId);
  const tax = taxTreatmentOf(await getStudio(tx), rate);
  return { taxName: rate.name, taxKind: tax.kind, taxPercent: tax.kind === 'standard' ? tax.percent : null };
}

const WHOLE = {
  buyer: true,
  open: true,
  moves: { where: { kind: 'lapsed' } },
  extensions: { orderBy: { id: 'desc' }, take: 1 },
} as const satisfies Prisma.VoucherInclude;
type WholeRow = Prisma.VoucherGetPayload<{ include: typeof WHOLE }>;

/** Vouchers with what is left on them. */
export async function listVouchers(tx: Transaction, today: string, query: VoucherQuery) {
  const { ids, ...found } = await findVouchers(tx, today, query);
  const rows = inOrder(ids, await tx.voucher.findMany({ where: { id: { in: ids } }, include: WHOLE }));
  return { items: rows.map((row) => show(row, row.open?.leftMinor ?? 0, today)), ...found };
}

/** @param today asked for once the voucher is found */
export async function getVoucher(tx: Transaction, today: () => Promise<string>, id: string): Promise<Voucher> {
  const row = await findWhole(tx, id);
  return show(row, row.open?.leftMinor ?? 0, await today());
}

/** The voucher as it is valid now. @throws Problem not-found */
export async function findVoucher(tx: Transaction, id: string): Promise<VoucherRow> {
  return standing(await findWhole(tx, id));
}

async function findWhole(tx: Transaction, id: string): Promise<WholeRow> {
  const row = await tx.voucher.findUnique({ where: { id }, include: WHOLE });
  if (row) return row;
  throw new Problem(
    'not-found',
    'No voucher has this id. Look for it on the page Vouchers.',
    see('money', '/api/vouchers'),
  );
}

/** What became of a voucher, the first first: sold, used, extended, lapsed. */
export async function listVoucherEvents(tx: Transaction, id: string): Promise<VoucherEvent[]> {
  await findWhole(tx, id);
  const where = { voucherId: id };
  const { timeZone } = await getStudio(tx);
  const moves = await tx.voucherMove.findMany({ where, include: { entry: true }, orderBy: { id: 'asc' } });
  const extensions = await tx.voucherExtension.findMany({ where, include: { madeBy: true }, orderBy: { id: 'asc' } });
  const events = [
    ...moves.map(({ id, kind, amountMinor, movedOn, entry }) => ({
      ...{ id, kind, amountMinor, on: fromDate(movedOn), what: entry.description, validUntil: null, madeBy: null },
    })),
    ...extensions.map(({ id, at, validUntil, reason, madeBy }) => ({
      ...{ id, kind: 'extended' as const, amountMinor: null, on: localDay(at, timeZone), what: reason },
      ...{ validUntil: fromDate(validUntil), madeBy: madeBy.name },
    })),
  ];
  return events.sort((a, b) => (a.id < b.id ? -1 : 1)); // ids follow the order in which they were made
}

const standing = ({ extensions: [latest], ...row }: WholeRow): WholeRow => ({
  ...row,
  extensions: [],
  ...(latest && { validUntil: latest.validUntil, documentId: latest.documentId }),
});

function show(whole: WholeRow, leftMinor: number, today: string): Voucher {
  const row = standing(whole);
  const { id, code, buyerId, buyer, forWhom, goodFor, amountMinor, taxName, validUntil, documentId } = row;
  return {
    ...{ id, code, buyerId, forWhom, goodFor, amountMinor, leftMinor, taxName, documentId },
    buyerName: buyer.name,
    state: stateOf(row, leftMinor, today),
    taxed: row.taxKind === null ? 'when-used' : 'when-sold',
    issuedOn: fromDate(row.issuedOn),
    validUntil: validUntil && fromDate(validUntil),
  };
}

function stateOf(row: WholeRow, leftMinor: number, today: string): Voucher['state'] {
  if (leftMinor === 0) return row.moves.length > 0 ? 'lapsed' : 'used';
  return isExpired(row, today) ? 'expired' : 'open';
}
