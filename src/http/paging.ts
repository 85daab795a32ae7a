import { z } from 'zod';
import { Id, LocalDate, SingleLine, UpTo } from './types.js';

const LIMIT_MAX = 200;

/** Lists run by id, oldest first (ids are UUID v7); `next` is what to send as `after`, or null at the end. */
export const PageQuery = z.strictObject({
  limit: z.coerce.number().int().min(1).max(LIMIT_MAX).default(50),
  after: Id.optional(),
});
export type PageQuery = z.output<typeof PageQuery>;

export function pageOf<T extends z.ZodType>(item: T) {
  return z.object({ items: z.array(item), next: Id.nullable() });
}

/** A cursor holds the name or the day by which its list is sorted. */
const CURSOR_MAX = 4000;

/** As PageQuery, of a list that is searched and sorted by the database; `after` is what `next` said, whatever it looks like. */
export const ListQuery = z.strictObject({
  limit: PageQuery.shape.limit,
  after: UpTo(CURSOR_MAX).min(1).optional(),
  q: SingleLine(80).optional().meta({
    description: 'Words to search for, in whatever case and without accents; each has to be found.',
  }),
});
export type ListQuery = z.output<typeof ListQuery>;

/** Of a list that can be asked for by days of the studio. */
export const Days = {
  from: LocalDate.optional().meta({ description: 'Not before this day of the studio.' }),
  to: LocalDate.optional().meta({ description: 'Up to this day, which is in it.' }),
};
export type Days = { from?: string | undefined; to?: string | undefined };

export function listOf<T extends z.ZodType>(item: T) {
  return z.object({
    items: z.array(item),
    next: z.string().nullable(),
    total: z.int().meta({ description: 'How many there are; counted up to 1,000.' }),
    totalIsMinimum: z.boolean().meta({ description: 'There are more than `total`.' }),
  });
}

/**
 * What Prisma needs to fetch a page of the rows that `where` picks, and one row more to know whether another follows.
 * `after` is a place in the order, not a row: Prisma's own cursor would end the list where that row has gone.
 */
export function pageArgs<W extends object>(query: PageQuery, where?: W & { id?: never }) {
  return {
    take: query.limit + 1,
    orderBy: { id: 'asc' as const },
    where: { ...where, ...(query.after && { id: { gt: query.after } }) },
  };
}

export function page<R extends { id: string }, T>(rows: R[], query: PageQuery, show: (row: R) => T) {
  const shown = rows.slice(0, query.limit);
  const last = shown.at(-1);
  return { items: shown.map(show), next: rows.length > query.limit && last ? last.id : null };
}
