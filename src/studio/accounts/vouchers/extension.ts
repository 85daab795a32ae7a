import type { Transaction } from '../../../database/transaction.js';
import { toDate } from '../../../database/values.js';
import { newId } from '../../../http/ids.js';
import { Problem } from '../../../problems.js';
import { formatDay } from '../../../trade/text/format.js';
import { getStudio } from '../../settings/service.js';
import { getPostingTime } from '../ledger.js';
import { lockVouchers } from '../queries.js';
import type { NewVoucherExtension, Voucher } from './contract.js';
import { issuePaper } from './document.js';
import { getVoucher } from './vouchers.js';

/** Makes a voucher valid for longer, also one that has expired, with a paper that says so; nothing moves in the books. */
export async function extendVoucher(
  tx: Transaction,
  now: Date,
  { staffMemberId }: { staffMemberId: string },
  id: string,
  { validUntil, reason }: NewVoucherExtension,
): Promise<Voucher> {
  const when = await getPostingTime(tx, now);
  await lockVouchers(tx, [id]);
  const { leftMinor, ...voucher } = await getVoucher(tx, async () => when.on, id);
  if (leftMinor === 0)
    throw new Problem('voucher-spent', 'Nothing is left on the voucher, so there is nothing to extend.');
  if (voucher.validUntil === null)
    throw new Problem('voucher-still-valid', 'The voucher has no expiry date: it can be used at any time.');
  const [, before = when.on] = [voucher.validUntil, when.on].sort();
  refuseEarlier(validUntil, before, (await getStudio(tx)).locale);
  const { code, buyerId, amountMinor, forWhom, goodFor, issuedOn, taxed } = voucher;
  const paper = { code, buyerId, amountMinor, forWhom, goodFor, issuedOn, taxed, validUntil };
  const fileName = `voucher-${code.toLowerCase()}-until-${validUntil}.pdf`;
  const documentId = await issuePaper(tx, now, { ...paper, fileName }, 'extended');
  await tx.voucherExtension.create({
    data: {
      ...{ id: newId(), voucherId: id, at: now, madeById: staffMemberId, reason, documentId },
      validUntil: toDate(validUntil),
    },
  });
  return getVoucher(tx, async () => when.on, id);
}

function refuseEarlier(validUntil: string, before: string, locale: string): void {
  if (validUntil > before) return;
  const day = formatDay(before, locale);
  throw new Problem('invalid-request', `An extension ends later than ${day}. Give a later day.`, {
    errors: [{ pointer: '#/validUntil', detail: `must be later than ${day}` }],
  });
}
