import { type FoundPage, findPage, onDays, within } from '../../../database/find-page.js';
import { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';
import { personPatterns, searchPatterns } from '../../../trade/text/search-text.js';
import { isVoucherCode, normaliseVoucherCode } from '../../../trade/text/voucher-code.js';
import { personMatches } from '../../people/queries.js';
import type { ChargeQuery, PaperQuery, PaymentQuery } from '../list-contract.js';

/** The paper of a voucher as it was sold, and those of its extensions. */
const ofVoucher = (code: string) => Prisma.sql`
  SELECT document_id FROM voucher WHERE code = ${code}
  UNION ALL SELECT e.document_id FROM voucher_extension e JOIN voucher v ON v.id = e.voucher_id WHERE v.code = ${code}`;

/** Every paper for a person went out with a message to them. */
const papersOf = (people: Prisma.Sql) =>
  Prisma.sql`SELECT document_id FROM notice WHERE document_id IS NOT NULL AND person_id IN (${people})`;

/** "R-000123", "r123", "123": a number of one series, or of any. */
function numberTyped(q: string): Prisma.Sql | undefined {
  const [, series = '', digits = ''] = q.match(/^\s*([rc]?)[\s-]*0*(\d{1,9})\s*$/i) ?? [];
  if (digits === '') return undefined;
  const number = Number(digits);
  const receipts = Prisma.sql`SELECT document_id FROM receipt WHERE series = 'R' AND number = ${number}`;
  const creditNotes = Prisma.sql`SELECT document_id FROM credit_note WHERE series = 'C' AND number = ${number}`;
  if (/r/i.test(series)) return receipts;
  return /c/i.test(series) ? creditNotes : Prisma.sql`${receipts} UNION ALL ${creditNotes}`;
}

/** From so many on, a page of them is found sooner by going through all papers, the latest first, than by sorting theirs. */
const PAPERS_MANY = 1000;

/** Papers by a code, a number or somebody's name; `walked` where people of such a name have very many. */
async function papersLike(tx: Transaction, q: string): Promise<{ like: Prisma.Sql; walked?: Prisma.Sql }> {
  const code = normaliseVoucherCode(q);
  if (isVoucherCode(code)) return { like: Prisma.sql`d.id IN (${ofVoucher(code)})` };
  const numbered = numberTyped(q);
  if (numbered) return { like: Prisma.sql`d.id IN (${numbered})` };
  const people = personMatches(...personPatterns(q));
  const some = await tx.$queryRaw<{ document_id: string }[]>`${papersOf(people)} LIMIT ${PAPERS_MANY}`;
  if (some.length < PAPERS_MANY)
    return { like: Prisma.sql`d.id = ANY(${some.map((paper) => paper.document_id)}::uuid[])` };
  const like = Prisma.sql`d.id IN (${papersOf(people)})`;
  const theirs = Prisma.sql`n.document_id = d.id AND n.person_id IN (${people} AND id = n.person_id)`;
  return { like, walked: Prisma.sql`(SELECT true FROM notice n WHERE ${theirs} LIMIT 1)` };
}

/** Papers, the latest first. */
export async function findPapers(
  tx: Transaction,
  query: PaperQuery,
  days: { from?: Date; before?: Date },
): Promise<FoundPage> {
  const { q, personId, kind } = query;
  const { like, walked } = q === undefined ? {} : await papersLike(tx, q);
  const others = [
    personId !== undefined && Prisma.sql`d.id IN (${papersOf(Prisma.sql`${personId}::uuid`)})`,
    kind && Prisma.sql`d.kind = ${kind}::document_kind`,
    within(Prisma.sql`d.created_at`, days),
  ];
  return findPage(
    tx,
    {
      ...{ from: Prisma.sql`document d`, id: Prisma.sql`d.id` },
      where: [like, ...others],
      walked: walked && [walked, ...others],
      order: { by: Prisma.sql`d.created_at`, as: 'timestamptz', isDown: true },
    },
    query,
  );
}

/** Payments and what was paid back, the latest first. */
export function findPayments(tx: Transaction, query: PaymentQuery): Promise<FoundPage> {
  const { q, personId, chargeId, method, direction } = query;
  return findPage(
    tx,
    {
      ...{ from: Prisma.sql`payment y`, id: Prisma.sql`y.id` },
      where: [
        q !== undefined && Prisma.sql`y.person_id IN (${personMatches(...personPatterns(q))})`,
        personId !== undefined && Prisma.sql`y.person_id = ${personId}::uuid`,
        chargeId !== undefined &&
          Prisma.sql`y.id IN (SELECT payment_id FROM allocation WHERE charge_id = ${chargeId}::uuid)`,
        method && Prisma.sql`y.method = ${method}::payment_method`,
        direction === 'in' && Prisma.sql`y.amount_minor > 0`,
        direction === 'out' && Prisma.sql`y.amount_minor < 0`,
        onDays(Prisma.sql`y.received_on`, query),
      ],
      order: { by: Prisma.sql`y.received_on`, as: 'date', isDown: true },
    },
    query,
  );
}

/** What people were asked for, the latest first. */
export function findCharges(tx: Transaction, query: ChargeQuery): Promise<FoundPage> {
  const { q, personId, kind, state } = query;
  const words = q === undefined ? [] : searchPatterns(q);
  const like = (word: string) => Prisma.sql`c.id IN (
    SELECT k.id FROM charge k WHERE k.search LIKE ${word}
    UNION ALL SELECT k.id FROM charge k WHERE k.person_id IN (${personMatches(word)}))`;
  const open = Prisma.sql`c.id IN (SELECT charge_id FROM open_charge)`;
  return findPage(
    tx,
    {
      ...{ from: Prisma.sql`charge c`, id: Prisma.sql`c.id` },
      where: [
        ...words.map(like),
        q !== undefined && words.length === 0 && Prisma.sql`false`,
        personId !== undefined && Prisma.sql`c.person_id = ${personId}::uuid`,
        kind && Prisma.sql`c.kind = ${kind}::charge_kind`,
        state === 'open' && open,
        state === 'settled' && Prisma.sql`NOT ${open}`,
        onDays(Prisma.sql`c.charged_on`, query),
      ],
      order: { by: Prisma.sql`c.charged_on`, as: 'date', isDown: true },
    },
    query,
  );
}
