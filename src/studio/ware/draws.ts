import type { Transaction } from '../../database/transaction.js';
import type { CourseDraw } from '../courses/draw-contract.js';
import { drawForCourse } from '../courses/service.js';
import { drawMaterial } from '../materials/service.js';
import type { NewPieceDraw } from './contract.js';
import { getPiecesById } from './pieces.js';

/** Takes from the shelf what went into one piece or onto it. Of a piece that is made on a course, its course drew it too. */
export async function drawForPiece(
  tx: Transaction,
  now: Date,
  pieceId: string,
  wanted: NewPieceDraw,
): Promise<CourseDraw> {
  const [piece] = await getPiecesById(tx, [pieceId]);
  const { materialId, quantity, note = `Piece ${piece?.code}` } = wanted;
  const drawn = piece?.courseId
    ? await drawForCourse(tx, now, piece.courseId, { materialId, quantity, note })
    : { materialId, quantity, ...(await drawMaterial(tx, now, { materialId, quantity, note })) };
  const { moveIds, foundQuantity } = drawn;
  await tx.pieceDraw.createMany({ data: moveIds.map((stockMoveId) => ({ stockMoveId, pieceId })) });
  return { materialId, quantity, foundQuantity, moveIds };
}
