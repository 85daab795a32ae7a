import { Problem } from '../problems.js';
import { Prisma } from './generated/client.js';
import type { Transaction } from './transaction.js';

/** So many rows are counted at most: a total beyond costs more than it tells. */
const COUNTED_MAX = 1000;

/** Which rows a list has, and in which order. */
export interface Listing {
  /** Such as `person p`. */
  from: Prisma.Sql;
  id: Prisma.Sql;
  where: readonly (Prisma.Sql | false | undefined)[];
  /** The same conditions in a form that goes through the rows in their order until a page is full: for words that very many rows have. */
  walked?: Listing['where'] | undefined;
  /** By id, oldest first, if left out. `as` is the type of what it is sorted by, which may not be null. */
  order?: { by: Prisma.Sql; as: 'text' | 'timestamptz' | 'date' | 'integer'; isDown?: boolean };
}

export interface FoundPage {
  ids: string[];
  /** What to send as `after` for the page that follows; null at the end. */
  next: string | null;
  total: number;
  /** There are more than `total`. */
  totalIsMinimum: boolean;
}

/**
 * A page of a list: the ids of its rows, and how many there are. `after` is a place in the order and no row, so that a list goes on
 * where the row before has gone.
 */
export async function findPage(
  tx: Transaction,
  { from, id, where, walked = where, order }: Listing,
  { limit, after }: { limit: number; after?: string | undefined },
): Promise<FoundPage> {
  const [conditions, wayThere] = [given(where), given(walked)];
  const place = after === undefined ? [] : [beyond(after, id, order)];
  const direction = order?.isDown ? Prisma.sql`DESC` : Prisma.sql`ASC`;
  const sorted = order ? Prisma.sql`${order.by} ${direction}, ${id} ${direction}` : Prisma.sql`${id} ASC`;
  const key = order ? Prisma.sql`(${order.by})::text` : Prisma.sql`NULL`;
  const rows = await tx.$queryRaw<{ id: string; key: string | null }[]>`
    SELECT ${id}::text AS id, ${key} AS key FROM ${from} WHERE ${all([...wayThere, ...place])} ORDER BY ${sorted} LIMIT ${limit + 1}`;
  const counted = await tx.$queryRaw<{ total: number }[]>`
    SELECT count(*)::int AS total FROM (SELECT 1 FROM ${from} WHERE ${all(conditions)} LIMIT ${COUNTED_MAX + 1}) counted`;
  const total = counted[0]?.total ?? 0;
  const shown = rows.slice(0, limit);
  const last = shown.at(-1);
  return {
    ids: shown.map((row) => row.id),
    next: rows.length > limit && last ? placeOf(last) : null,
    ...{ total: Math.min(total, COUNTED_MAX), totalIsMinimum: total > COUNTED_MAX },
  };
}

const given = (where: Listing['where']): Prisma.Sql[] => where.filter((condition) => condition instanceof Prisma.Sql);

/** Those rows again in the order of their ids, as a page has them. */
export function inOrder<R extends { id: string }>(ids: readonly string[], rows: readonly R[]): R[] {
  const byId = new Map(rows.map((row) => [row.id, row]));
  return ids.flatMap((id) => byId.get(id) ?? []);
}

/** All of these; every row where there are none. */
export const all = (conditions: readonly Prisma.Sql[]): Prisma.Sql =>
  conditions.length === 0 ? Prisma.sql`true` : Prisma.join([...conditions], ' AND ');

/** Whether text in the form of search_text() has each of these patterns; nothing has none of them. */
export const matches = (text: Prisma.Sql, patterns: readonly string[]): Prisma.Sql =>
  patterns.length === 0 ? Prisma.sql`false` : all(patterns.map((pattern) => Prisma.sql`${text} LIKE ${pattern}`));

/** Whether a moment lies within these; everything does where neither is given. */
export const within = (moment: Prisma.Sql, { from, before }: { from?: Date; before?: Date }): Prisma.Sql =>
  all([...(from ? [Prisma.sql`${moment} >= ${from}`] : []), ...(before ? [Prisma.sql`${moment} < ${before}`] : [])]);

/** Whether a day (a date column) lies within these. */
export const onDays = (
  day: Prisma.Sql,
  { from, to }: { from?: string | undefined; to?: string | undefined },
): Prisma.Sql =>
  all([...(from ? [Prisma.sql`${day} >= ${from}::date`] : []), ...(to ? [Prisma.sql`${day} <= ${to}::date`] : [])]);

const placeOf = ({ id, key }: { id: string; key: string | null }) =>
  key === null ? id : Buffer.from(JSON.stringify([key, id])).toString('base64url');

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;

function beyond(after: string, id: Prisma.Sql, order: Listing['order']): Prisma.Sql {
  if (!order) {
    if (!UUID.test(after)) throw wrongPlace();
    return Prisma.sql`${id} > ${after}::uuid`;
  }
  const [key, last] = keyIn(after, KEYS[order.as]);
  const type = Prisma.raw(order.as);
  const sign = order.isDown ? Prisma.sql`<` : Prisma.sql`>`;
  return Prisma.sql`(${order.by}, ${id}) ${sign} (${key}::${type}, ${last}::uuid)`;
}

const KEYS: Record<NonNullable<Listing['order']>['as'], (key: string) => boolean> = {
  text: (key) => !key.includes('\u0000'),
  timestamptz: (key) =>
    /^\d{4}-\d\d-\d\d \d\d:\d\d:\d\d(\.\d+)?\+00$/.test(key) && !Number.isNaN(Date.parse(`${key}:00`)),
  date: (key) => /^\d{4}-\d\d-\d\d$/.test(key) && !Number.isNaN(Date.parse(key)),
  integer: (key) => /^\d{1,9}$/.test(key),
};

function keyIn(after: string, isKey: (key: string) => boolean): [string, string] {
  try {
    const [key, id] = JSON.parse(Buffer.from(after, 'base64url').toString('utf8')) as unknown[];
    if (typeof key === 'string' && typeof id === 'string' && UUID.test(id) && isKey(key)) return [key, id];
  } catch {
    // told below
  }
  throw wrongPlace();
}

const wrongPlace = () =>
  new Problem(
    'invalid-request',
    'This is not a place in the list. Send as `after` what the page before said as `next`.',
    {
      errors: [
        { pointer: '#/after', detail: 'must be what the page before said as next, of the same list in the same order' },
      ],
    },
  );
