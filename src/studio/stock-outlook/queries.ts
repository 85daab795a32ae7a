import type { Transaction } from '../../database/transaction.js';

/** What each course drew of each material by now, in base units, under "course id, space, material id". */
export async function getDrawnByCourse(tx: Transaction, courseIds: readonly string[]): Promise<Map<string, number>> {
  const rows = await tx.$queryRaw<{ key: string; drawn: number }[]>`
    SELECT d.course_id || ' ' || m.material_id AS key, (-sum(m.quantity))::float8 AS drawn
      FROM course_draw d JOIN stock_move m ON m.id = d.stock_move_id
     WHERE d.course_id = ANY(${courseIds}::uuid[]) GROUP BY d.course_id, m.material_id`;
  return new Map(rows.map(({ key, drawn }) => [key, drawn]));
}
