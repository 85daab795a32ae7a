import { randomInt } from 'node:crypto';
import type { Transaction } from '../../../database/transaction.js';
import { fromDate, toDate } from '../../../database/values.js';
import type { VoucherContent } from '../../../documents/voucher-content.js';
import { dateInWords, moneyInText } from '../../../documents/words.js';
import { newId } from '../../../http/ids.js';
import { newVoucherCode, voucherCodeInWords } from '../../../trade/text/voucher-code.js';
import { issueDocument, notify } from '../../notices/service.js';
import { getPaperHead } from '../../settings/paper-head.js';
import { getStudio } from '../../settings/service.js';
import { type FrozenTax, taxOf } from '../charges/charge-state.js';

/** How a voucher was taxed when it was sold; null where it is taxed when used. */
export type VoucherTax = { taxName: string; taxKind: FrozenTax['taxKind']; taxPercent: string | null } | null;

export type VoucherRow = NonNullable<Awaited<ReturnType<Transaction['voucher']['findUnique']>>>;

/** The treatment under which a voucher's VAT was due when it was sold; null where it falls due on use. */
export const taxWhenSold = ({ taxKind, taxPercent }: VoucherRow) =>
  taxKind === null ? null : taxOf({ taxKind, taxPercent });

/** Makes a voucher that holds nothing yet, with its paper, and sends it to the buyer. @param chance as newVoucherCode takes it */
export async function issueVoucher(
  tx: Transaction,
  now: Date,
  on: string,
  wanted: {
    buyerId: string;
    amountMinor: number;
    forWhom: string | null;
    goodFor: string | null;
    validUntil: string | null;
    tax: VoucherTax;
    /** why it is made */
    because: 'bought' | 'instead-of-expired' | 'credit';
  },
  chance: (below: number) => number = randomInt,
): Promise<VoucherRow> {
  const studio = await getStudio(tx);
  const { buyerId, amountMinor, forWhom, goodFor, validUntil, tax, because } = wanted;
  const code = newVoucherCode(chance);
  const content: VoucherContent = {
    ...(await getPaperHead(tx)),
    code,
    issuedOn: on,
    amountMinor,
    forWhom,
    goodFor,
    validUntil,
    taxed: tax === null ? 'when-used' : 'when-sold',
  };
  const fileName = `voucher-${code.toLowerCase()}.pdf`;
  const documentId = await issueDocument(tx, now, { kind: 'voucher', fileName, content });
  const row = await tx.voucher.create({
    data: {
      id: newId(),
      code,
      buyerId,
      amountMinor,
      forWhom,
      goodFor,
      ...tax,
      issuedOn: toDate(on),
      validUntil: validUntil === null ? null : toDate(validUntil),
      documentId,
    },
  });
  const data = {
    code: voucherCodeInWords(code),
    amount: moneyInText(studio)(amountMinor),
    forWhom,
    validUntil: validUntil === null ? null : dateInWords(validUntil, studio.locale),
    insteadOfExpired: because === 'instead-of-expired',
    isCredit: because === 'credit',
  };
  await notify(tx, now, { personId: buyerId, occasion: 'voucher', documentId, data });
  return row;
}

/** Has a voucher's last day passed? */
export const isExpired = ({ validUntil }: VoucherRow, today: string): boolean =>
  validUntil !== null && fromDate(validUntil) < today;
