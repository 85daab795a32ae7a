import type { Transaction } from '../../../database/transaction.js';
import { fromDate, toDate } from '../../../database/values.js';
import { newId } from '../../../http/ids.js';
import { Problem, see } from '../../../problems.js';
import { formatMoneyInText } from '../../../trade/money/money.js';
import { sameTax, type TaxTreatment, vatOfPart } from '../../../trade/money/tax.js';
import { formatDay } from '../../../trade/text/format.js';
import { isVoucherCode, voucherCodeInWords } from '../../../trade/text/voucher-code.js';
import { getStudio } from '../../settings/service.js';
import type { LedgerLine } from '../ledger.js';
import { getRemainingOn, lockVouchers } from '../queries.js';
import { asExtended, isExpired, taxWhenSold, type VoucherRow } from './document.js';

/**
 * What a voucher's move posts, but for the other side: the liability grows by what goes on it and falls by what comes off. Where
 * VAT was due when it was sold, the liability is net and its VAT moves along: on use it comes off again, since the supply that is
 * paid for brings the same VAT. So VAT is due once, and the liability is always that of what is left.
 *
 * @param leftMinor   on the voucher before
 * @param amountMinor what goes on it, or below zero what comes off
 */
export function voucherLines(leftMinor: number, amountMinor: number, tax: TaxTreatment | null): LedgerLine[] {
  const vat = tax === null ? 0 : vatOfPart(leftMinor, amountMinor, tax);
  return [
    { account: 'vouchers-outstanding', amountMinor: vat - amountMinor },
    { account: 'vat', amountMinor: 0 - vat },
  ];
}

export async function recordMove(
  tx: Transaction,
  on: string,
  move: {
    voucherId: string;
    kind: 'sold' | 'used' | 'returned' | 'lapsed';
    amountMinor: number;
    entryId: string | null;
  },
): Promise<void> {
  const { entryId } = move;
  if (entryId === null) throw new Problem('not-balanced', 'The amount must be more than zero.');
  await tx.voucherMove.create({ data: { id: newId(), ...move, entryId, movedOn: toDate(on) } });
}

/** Which field of a payment a refusal is about. */
const atCode = (detail: string) => ({ errors: [{ pointer: '#/voucherCode', detail }] });

async function voucherByCode(tx: Transaction, code: string): Promise<VoucherRow> {
  if (!isVoucherCode(code))
    throw new Problem('invalid-request', 'That is not a valid voucher code. Please check all ten characters.', {
      ...atCode('has a wrong check character'),
    });
  const row = await tx.voucher.findUnique({ where: { code } });
  if (!row)
    throw new Problem(
      'not-found',
      `No voucher has the code ${voucherCodeInWords(code)}. Ask to see the voucher, or look for its buyer on the page Money.`,
      { ...see('money', '/api/vouchers'), ...atCode('is the code of no voucher') },
    );
  return row;
}

export type Tender = { row: VoucherRow; tax: TaxTreatment | null; leftMinor: number };

/** A voucher that is about to pay for something, locked; refused where it can't. `leftMinor` is what is on it before. */
export async function tenderVoucher(
  tx: Transaction,
  on: string,
  code: string,
  parts: readonly {
    description: string;
    amountMinor: number;
    taxed: readonly { part: { taxName: string; tax: TaxTreatment } }[];
  }[],
): Promise<Tender> {
  const row = await voucherByCode(tx, code);
  await lockVouchers(tx, [row.id]);
  const leftMinor = (await getRemainingOn(tx, [row.id])).get(row.id) ?? 0;
  const tax = taxWhenSold(row);
  refuseExpired(await asExtended(tx, row), on, (await getStudio(tx)).locale);
  const other = tax === null ? undefined : parts.find(({ taxed }) => taxed.some(({ part }) => !sameTax(part.tax, tax)));
  if (other)
    throw new Problem(
      'voucher-other-tax',
      `The voucher was sold and taxed as ${row.taxName}, and "${other.description}" is taxed as ${other.taxed.map(({ part }) => part.taxName).join(' and ')}. Take this payment another way; nothing is taken off the voucher.`,
      atCode('is of a voucher for another VAT rate'),
    );
  const wantedMinor = parts.reduce((sum, part) => sum + part.amountMinor, 0);
  if (wantedMinor > leftMinor) throw await spent(tx, leftMinor);
  return { row, tax, leftMinor };
}

function refuseExpired(row: VoucherRow, on: string, locale: string): void {
  if (!isExpired(row, on) || row.validUntil === null) return;
  const day = fromDate(row.validUntil);
  throw new Problem(
    'voucher-expired',
    `The voucher was valid until ${formatDay(day, locale)}. Take the payment another way.`,
    { validUntil: day, ...atCode('is of a voucher that is no longer valid') },
  );
}

async function spent(tx: Transaction, leftMinor: number): Promise<Problem> {
  const { currency, locale } = await getStudio(tx);
  const sentence =
    leftMinor === 0
      ? 'Nothing is left on the voucher. Take the payment another way.'
      : `Only ${formatMoneyInText(leftMinor, currency, locale)} is left on the voucher. Take that much by voucher and the rest another way.`;
  return new Problem('voucher-spent', sentence, { leftMinor, ...atCode('is of a voucher with less left on it') });
}
