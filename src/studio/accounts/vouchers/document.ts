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

/** Why a voucher is made. */
type Because = 'bought' | 'instead-of-expired' | 'credit';

type OnPaper = {
  code: string;
  issuedOn: string;
  amountMinor: number;
  forWhom: string | null;
  goodFor: string | null;
  validUntil: string | null;
  taxed: VoucherContent['taxed'];
};

/** Issues a voucher's paper, and sends it to who bought it. @returns the id of the paper */
export async function issuePaper(
  tx: Transaction,
  now: Date,
  { fileName, buyerId, ...paper }: OnPaper & { fileName: string; buyerId: string },
  because: Because | 'extended',
): Promise<string> {
  const studio = await getStudio(tx);
  const content: VoucherContent = { ...(await getPaperHead(tx)), ...paper };
  const documentId = await issueDocument(tx, now, { kind: 'voucher', fileName, content });
  const data = {
    code: voucherCodeInWords(paper.code),
    amount: moneyInText(studio)(paper.amountMinor),
    forWhom: paper.forWhom,
    validUntil: paper.validUntil === null ? null : dateInWords(paper.validUntil, studio.locale),
    insteadOfExpired: because === 'instead-of-expired',
    isCredit: because === 'credit',
    isExtended: because === 'extended',
  };
  await notify(tx, now, { personId: buyerId, occasion: 'voucher', documentId, data });
  return documentId;
}

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
    because: Because;
  },
  chance: (below: number) => number = randomInt,
): Promise<VoucherRow> {
  const { tax, because, ...given } = wanted;
  const code = newVoucherCode(chance);
  const paper = { ...given, code, issuedOn: on, taxed: tax === null ? 'when-used' : 'when-sold' } as const;
  const documentId = await issuePaper(tx, now, { ...paper, fileName: `voucher-${code.toLowerCase()}.pdf` }, because);
  const { buyerId, amountMinor, forWhom, goodFor, validUntil } = given;
  return tx.voucher.create({
    data: {
      ...{ id: newId(), code, buyerId, amountMinor, forWhom, goodFor, ...tax, documentId },
      issuedOn: toDate(on),
      validUntil: validUntil === null ? null : toDate(validUntil),
    },
  });
}

/** A voucher with the last day and the paper of its latest extension. */
export async function asExtended(tx: Transaction, row: VoucherRow): Promise<VoucherRow> {
  const latest = await tx.voucherExtension.findFirst({ where: { voucherId: row.id }, orderBy: { id: 'desc' } });
  return latest ? { ...row, validUntil: latest.validUntil, documentId: latest.documentId } : row;
}

/** Has a voucher's last day passed? */
export const isExpired = ({ validUntil }: VoucherRow, today: string): boolean =>
  validUntil !== null && fromDate(validUntil) < today;
