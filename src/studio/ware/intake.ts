import type { Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { type FiredWare, kilnRoomMm3 } from '../../trade/firing/kiln-room.js';
import { sizeFrom } from '../../trade/materials/vessel-shapes.js';
import { piecesInThePrice } from '../../trade/pricing/included-firing.js';
import { newCode } from '../../trade/text/ware-code.js';
import { getIncludedLitres } from '../courses/plans.js';
import { getCourse } from '../courses/service.js';
import { getMaterial } from '../materials/service.js';
import { getPerson } from '../people/service.js';
import { findBoard } from './boards.js';
import type { NewPieces, Piece } from './contract.js';
import { getPiecesById } from './pieces.js';
import { insertEvents, insertPieces, lockSerial } from './queries.js';

/** Takes in ware of one maker, and makes a code for each piece, to be scratched or written on its foot. */
export async function addPieces(tx: Transaction, now: Date, wanted: NewPieces): Promise<Piece[]> {
  const { makerId, courseId, boardId, stage, ware } = wanted;
  await getPerson(tx, makerId);
  const planId = courseId === null ? null : (await getCourse(tx, courseId)).planId;
  if (boardId !== null) await findBoard(tx, boardId);
  const shrinkageOf = await shrinkages(tx, ware);

  const each = ware.flatMap((kind) => Array.from({ length: kind.count }, () => kind));
  const last = await lockSerial(tx);
  const sized = each.map(({ form, size, description, clayId }, i) => ({
    ...{ id: newId(), code: newCode(last + 1 + i), serial: last + 1 + i },
    ...{ makerId, courseId, boardId, stage, form, description, clayId, createdAt: now },
    ...(typeof size === 'string' ? sizeFrom(form, size) : size),
    measured: typeof size !== 'string',
  }));
  const fired = sized.map((row) => ({ ...row, firingShrinkagePercent: shrinkageOf.get(row.clayId ?? '') ?? null }));
  const payers = await whoPays(tx, wanted, planId, fired);
  const rows = sized.map((row, i) => ({ ...row, firingPaidBy: payers[i] ?? wanted.firingPaidBy }));
  await insertPieces(tx, rows);
  const events = rows.map(({ id }) => ({ pieceId: id, stage, boardId, note: 'Taken in' }));
  await insertEvents(tx, now, events);
  const ids = rows.map(({ id }) => id);
  return getPiecesById(tx, ids);
}

type Payer = NewPieces['firingPaidBy'];

/** The course pays for as much as is in its price; what a student makes beyond that is theirs to pay. Call it under lockSerial. */
async function whoPays(
  tx: Transaction,
  { makerId, courseId, firingPaidBy }: NewPieces,
  planId: string | null,
  sized: readonly FiredWare[],
): Promise<Payer[]> {
  const included = firingPaidBy === 'course' && planId !== null ? await getIncludedLitres(tx, planId) : null;
  if (included === null) return sized.map(() => firingPaidBy);
  const room = (ware: FiredWare) => kilnRoomMm3(ware, 'lustre'); // what is in the price is counted by the fired size, as its maker sees it
  const before = await tx.piece.findMany({
    // clay that went back into the bucket takes no room in a kiln
    where: { makerId, courseId, firingPaidBy: 'course', stage: { not: 'reclaimed' } },
    select: {
      ...{ form: true, widthMm: true, depthMm: true, heightMm: true },
      clay: { select: { firingShrinkagePercent: true } },
    },
  });
  const taken = before.reduce((sum, { clay, ...size }) => {
    const shrinkage = clay?.firingShrinkagePercent;
    return sum + room({ ...size, firingShrinkagePercent: shrinkage ? fromDecimal(shrinkage) : null });
  }, 0);
  return piecesInThePrice(included, taken, sized.map(room)).map((fits) => (fits ? 'course' : 'maker'));
}

/** How much each clay shrinks in the fire, under its id; what is no clay is refused. */
async function shrinkages(tx: Transaction, ware: NewPieces['ware']): Promise<Map<string, string | null>> {
  const found = new Map<string, string | null>();
  for (const clayId of new Set(ware.flatMap((kind) => kind.clayId ?? []))) {
    const { kind, name, firingShrinkagePercent } = await getMaterial(tx, clayId);
    if (kind !== 'clay')
      throw new Problem('invalid-request', `${name} is not a clay. Name the clay that the piece is made of, or none.`);
    found.set(clayId, firingShrinkagePercent);
  }
  return found;
}
