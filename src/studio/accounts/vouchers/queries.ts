import { type FoundPage, findPage } from '../../../database/find-page.js';
import { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';
import { searchPatterns } from '../../../trade/text/search-text.js';
import { personMatches } from '../../people/queries.js';
import type { VoucherQuery } from './contract.js';

const isOpen = Prisma.sql`v.id IN (SELECT voucher_id FROM open_voucher)`;
const hasExpired = (today: string) => Prisma.sql`
  coalesce((SELECT max(e.valid_until) FROM voucher_extension e WHERE e.voucher_id = v.id), v.valid_until) < ${today}::date`;

const stateIs = (state: NonNullable<VoucherQuery['state']>, today: string): Prisma.Sql => {
  switch (state) {
    case 'open':
      return Prisma.sql`${isOpen} AND (${hasExpired(today)}) IS NOT TRUE`;
    case 'expired':
      return Prisma.sql`${isOpen} AND ${hasExpired(today)}`;
    case 'ended':
      return Prisma.sql`NOT ${isOpen}`;
  }
};

/** Vouchers, the latest sold first; each word is in the name of who bought it, in whom it is for, or is a part of its code. */
export function findVouchers(tx: Transaction, today: string, query: VoucherQuery): Promise<FoundPage> {
  const { q, code, buyerId, state } = query;
  const words = q === undefined ? [] : searchPatterns(q);
  const like = (word: string) => Prisma.sql`(
    v.code LIKE upper(${word}) OR search_text(coalesce(v.for_whom, '')) LIKE ${word} OR v.buyer_id IN (${personMatches(word)}))`;
  return findPage(
    tx,
    {
      ...{ from: Prisma.sql`voucher v`, id: Prisma.sql`v.id` },
      where: [
        ...words.map(like),
        q !== undefined && words.length === 0 && Prisma.sql`false`,
        code !== undefined && Prisma.sql`v.code = ${code}`,
        buyerId !== undefined && Prisma.sql`v.buyer_id = ${buyerId}::uuid`,
        state && stateIs(state, today),
      ],
      order: { by: Prisma.sql`v.issued_on`, as: 'date', isDown: true },
    },
    query,
  );
}
