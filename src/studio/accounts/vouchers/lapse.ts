import type { Transaction } from '../../../database/transaction.js';
import { fromDate } from '../../../database/values.js';
import { Problem } from '../../../problems.js';
import type { TaxTreatment } from '../../../trade/money/tax.js';
import { vatInside } from '../../../trade/money/tax.js';
import { formatDay } from '../../../trade/text/format.js';
import { voucherCodeInWords } from '../../../trade/text/voucher-code.js';
import { getStudio, getTaxRate, taxTreatmentOf } from '../../settings/service.js';
import { getPostingTime, type LedgerLine, postEntry } from '../ledger.js';
import { getRemainingOn, lockVouchers } from '../queries.js';
import type { NewLapse, Voucher } from './contract.js';
import { isExpired, taxWhenSold, type VoucherRow } from './document.js';
import { recordMove, voucherLines } from './moves.js';
import { findVoucher, getVoucher } from './vouchers.js';

/**
 * Takes what is left on an expired voucher as income: nobody but the owner decides that. VAT that was due when it was sold stays
 * due. Where it falls due on use there was none; Directive (EU) 2016/1065 leaves open what holds then, so the owner says it.
 */
export async function lapseVoucher(tx: Transaction, now: Date, id: string, wanted: NewLapse): Promise<Voucher> {
  const when = await getPostingTime(tx, now);
  await lockVouchers(tx, [id]);
  const row = await findVoucher(tx, id);
  const leftMinor = (await getRemainingOn(tx, [id])).get(id) ?? 0;
  refuse(row, leftMinor, when.on, (await getStudio(tx)).locale);
  const entryId = await postEntry(tx, when, {
    description: `Voucher ${voucherCodeInWords(row.code)} lapsed`,
    lines: [...voucherLines(leftMinor, -leftMinor, null), ...(await income(tx, row, leftMinor, wanted))],
  });
  await recordMove(tx, when.on, { voucherId: id, kind: 'lapsed', amountMinor: -leftMinor, entryId });
  return getVoucher(tx, async () => when.on, id);
}

function refuse(row: VoucherRow, leftMinor: number, on: string, locale: string): void {
  if (leftMinor === 0) throw new Problem('voucher-spent', 'Nothing is left on the voucher, so nothing lapses.');
  if (isExpired(row, on)) return;
  throw new Problem(
    'voucher-still-valid',
    row.validUntil === null
      ? 'The voucher has no expiry date, so it never lapses.'
      : `The voucher can be used until ${formatDay(fromDate(row.validUntil), locale)}. Let it lapse after that day.`,
  );
}

async function income(
  tx: Transaction,
  row: VoucherRow,
  leftMinor: number,
  { taxRateId }: NewLapse,
): Promise<LedgerLine[]> {
  const sold = taxWhenSold(row);
  if ((sold === null) !== (taxRateId !== undefined))
    throw new Problem(
      'invalid-request',
      sold === null
        ? 'Say whether VAT falls due on what lapses: a rate, or none. Ask your accountant.'
        : 'The VAT of this voucher was due when it was sold. Give no rate now.',
      { errors: [{ pointer: '#/taxRateId', detail: sold === null ? 'is needed' : 'must be left out' }] },
    );
  const tax: TaxTreatment | null =
    taxRateId === undefined || taxRateId === null
      ? null
      : taxTreatmentOf(await getStudio(tx), await getTaxRate(tx, taxRateId));
  const vatOfSale = sold === null ? 0 : vatInside(leftMinor, sold); // never came onto the liability
  const vat = tax === null ? 0 : vatInside(leftMinor, tax);
  return [
    { account: 'vouchers-outstanding', amountMinor: -vatOfSale },
    { account: 'vat', amountMinor: -vat },
    { account: 'vouchers-lapsed', amountMinor: -(leftMinor - vatOfSale - vat) },
  ];
}
