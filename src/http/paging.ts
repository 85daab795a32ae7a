import { z } from 'zod';
import { Id } from './types.js';

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

/** What Prisma needs to fetch a page, and one row more to know whether another follows. */
export function pageArgs(query: PageQuery) {
  return {
    take: query.limit + 1,
    orderBy: { id: 'asc' as const },
    ...(query.after ? { cursor: { id: query.after }, skip: 1 } : {}),
  };
}

export function page<R extends { id: string }, T>(rows: R[], query: PageQuery, show: (row: R) => T) {
  const shown = rows.slice(0, query.limit);
  const last = shown.at(-1);
  return { items: shown.map(show), next: rows.length > query.limit && last ? last.id : null };
}
