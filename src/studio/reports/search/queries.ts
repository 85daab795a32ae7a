import { all, matches } from '../../../database/find-page.js';
import { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';
import {
  hasLongWord,
  personPatterns,
  prefixPatterns,
  searchPatterns,
  searchText,
} from '../../../trade/text/search-text.js';
import { isCode, normaliseCode } from '../../../trade/text/ware-code.js';
import { makerOf, personMatches } from '../../people/queries.js';
import { HERE, pieceMatches } from '../../ware/queries.js';

// Each way to be found is a query of its own that ends after the few rows that are shown, so that none sorts all that match.

type Ids = Promise<string[]>;

async function firstOf(tx: Transaction, ways: readonly Prisma.Sql[], limit: number): Ids {
  const ranked = ways.map(
    (way, rank) => Prisma.sql`(SELECT id, ${rank}::int AS rank, nth FROM (${way} LIMIT ${limit}) w)`,
  );
  const rows = await tx.$queryRaw<{ id: string }[]>`
    SELECT id::text FROM (${Prisma.join(ranked, ' UNION ALL ')}) found GROUP BY id ORDER BY min(rank), min(nth) LIMIT ${limit}`;
  return rows.map(({ id }) => id);
}

/** First those whose name begins so, then those of whom each word begins a word, then what is found inside words. */
export function peopleFound(tx: Transaction, q: string, limit: number): Ids {
  const way = (condition: Prisma.Sql) =>
    Prisma.sql`SELECT id, row_number() OVER (ORDER BY name_key, id) AS nth FROM person WHERE ${condition} ORDER BY name_key, id`;
  const search = Prisma.sql`search`;
  const code = normaliseCode(q);
  return firstOf(
    tx,
    [
      way(matches(Prisma.sql`name_key`, beginning(q))),
      way(matches(search, prefixPatterns(q))),
      way(matches(search, personPatterns(q))),
      ...(isCode(code) ? [way(Prisma.sql`id IN (${makerOf(code)})`)] : []),
    ],
    limit,
  );
}

const beginning = (q: string) => {
  const text = searchText(q);
  return text.trim() === '' ? [] : [`${text}%`];
};

/**
 * First the piece that has the code, then codes that begin so, then what is here by its description and maker, then all that ever was by
 * either. One or two letters are looked for in codes and in what is here only: of all ware, too much has them.
 */
export function piecesFound(tx: Transaction, q: string, limit: number): Ids {
  const code = normaliseCode(q);
  const way = (condition: Prisma.Sql) =>
    Prisma.sql`SELECT p.id, row_number() OVER (ORDER BY p.created_at DESC) AS nth FROM piece p WHERE ${condition} ORDER BY p.created_at DESC`;
  const words = searchPatterns(q);
  return firstOf(
    tx,
    [
      ...(isCode(code) ? [way(Prisma.sql`p.code = ${code}`)] : []),
      ...(/^[A-Z0-9]{2,}$/.test(code) ? [way(Prisma.sql`p.search LIKE ${` ${code.toLowerCase()}%`}`)] : []),
      way(words.length === 0 ? Prisma.sql`false` : all([HERE, ...words.map(pieceMatches)])),
      ...(hasLongWord(q)
        ? [way(matches(Prisma.sql`p.search`, words)), way(Prisma.sql`p.maker_id IN (${personMatches(...words)})`)]
        : []),
    ],
    limit,
  );
}

/** Those whose title begins so first, and of each the latest first: what is to come before what is over. */
export function coursesFound(tx: Transaction, q: string, limit: number): Ids {
  const way = (patterns: readonly string[]) => Prisma.sql`
    SELECT c.id, row_number() OVER (ORDER BY f.starts_at DESC) AS nth
      FROM course c JOIN session f ON f.course_id = c.id AND f.ordinal = 1
     WHERE ${matches(Prisma.sql`c.search`, patterns)} ORDER BY f.starts_at DESC`;
  return firstOf(tx, [way(prefixPatterns(q)), way(searchPatterns(q))], limit);
}
