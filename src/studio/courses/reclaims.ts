import type { Transaction } from '../../database/transaction.js';
import { fromDate } from '../../database/values.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { Problem } from '../../problems.js';
import { worthOfBackMinor } from '../../trade/stock/fifo.js';
import { recordReclaim } from '../materials/returns.js';
import { getMaterial } from '../materials/service.js';
import { lockMaterialStock } from '../materials/stock-moves.js';
import type { CourseReclaim, NewCourseReclaim } from './draw-contract.js';
import { outOf } from './queries.js';
import { getCourse } from './service.js';

/**
 * Puts on the shelf what came back of a course and was worked up again: a lot at the mean cost of what the course drew, by so much
 * the course costs less. Whoever draws it next pays that, so that no clay is counted twice and none for nothing.
 *
 * @throws Problem stock-impossible where the course drew less of it
 */
export async function reclaimOfCourse(
  tx: Transaction,
  now: Date,
  courseId: string,
  wanted: NewCourseReclaim,
): Promise<CourseReclaim> {
  const { title } = await getCourse(tx, courseId);
  const { materialId, quantity, note = title } = wanted;
  const { name, unit } = await getMaterial(tx, materialId);
  await lockMaterialStock(tx, materialId);
  const out = await outOf(tx, courseId, materialId);
  if (quantity > out.quantity)
    throw new Problem(
      'stock-impossible',
      `At most ${out.quantity} ${unit} of ${name} can come back: that is what “${title}” used, less what came back before. Weigh it again, or first note what was used.`,
    );
  const lot = await recordReclaim(tx, now, { materialId, quantity, costMinor: worthOfBackMinor(out, quantity), note });
  await tx.courseReclaim.create({ data: { lotId: lot.id, courseId } });
  return { lotId: lot.id, materialId, materialName: name, unit, quantity, receivedOn: lot.receivedOn };
}

/** What came back of a course, oldest first. */
export async function listReclaims(tx: Transaction, courseId: string, query: PageQuery) {
  await getCourse(tx, courseId);
  const rows = await tx.lot.findMany({
    ...pageArgs(query, { courseReclaim: { courseId } }),
    include: { material: { select: { name: true, unit: true } } },
  });
  return page(rows, query, ({ id: lotId, materialId, material: { name, unit }, quantity, receivedOn }) => ({
    ...{ lotId, materialId, materialName: name, unit, quantity, receivedOn: fromDate(receivedOn) },
  }));
}
