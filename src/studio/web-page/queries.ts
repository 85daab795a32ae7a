import type { Transaction } from '../../database/transaction.js';
import { isComing } from '../courses/queries.js';

/** Keeps others from changing what the web page shows until this transaction ends; before it was ever changed there is no row to lock. */
export async function lockWebPageTable(tx: Transaction): Promise<void> {
  await tx.$executeRaw`LOCK TABLE web_page IN SHARE ROW EXCLUSIVE MODE`;
}

/** The courses that anyone may come to and that have not begun: a private session is its group's own business. */
export async function findPublicCourses(tx: Transaction, now: Date): Promise<string[]> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    SELECT c.id::text FROM course c JOIN course_plan n ON n.id = c.plan_id
     WHERE n.kind <> 'private' AND ${isComing(now)}
     ORDER BY (SELECT min(s.starts_at) FROM session s WHERE s.course_id = c.id AND s.cancelled_at IS NULL), c.id`;
  return rows.map(({ id }) => id);
}
