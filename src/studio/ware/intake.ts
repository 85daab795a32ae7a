import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { sizeFrom } from '../../trade/forms.js';
import { newCode } from '../../trade/ware-code.js';
import { course } from '../courses/service.js';
import { material } from '../materials/service.js';
import { person } from '../people/service.js';
import { board } from './boards.js';
import type { NewPieces, Piece } from './contract.js';
import { pieces } from './pieces.js';
import { lockSerial } from './queries.js';

/** Takes in ware of one maker, and makes a code for each piece, to be scratched or written on its foot. */
export async function addPieces(tx: Transaction, now: Date, wanted: NewPieces): Promise<Piece[]> {
  const { makerId, courseId, firingPaidBy, boardId, stage, ware } = wanted;
  await person(tx, makerId);
  if (courseId !== null) await course(tx, courseId);
  if (boardId !== null) await board(tx, boardId);
  await refuseOtherThanClay(tx, ware);

  const each = ware.flatMap((kind) => Array.from({ length: kind.count }, () => kind));
  const last = await lockSerial(tx);
  const rows = each.map(({ form, size, description, clayId }, i) => ({
    ...{ id: newId(), code: newCode(last + 1 + i), serial: last + 1 + i },
    ...{ makerId, courseId, firingPaidBy, boardId, stage, form, description, clayId, createdAt: now },
    ...(typeof size === 'string' ? sizeFrom(form, size) : size),
    measured: typeof size !== 'string',
  }));
  await tx.piece.createMany({ data: rows });
  await tx.pieceEvent.createMany({
    data: rows.map(({ id }) => ({ id: newId(), pieceId: id, at: now, stage, boardId, note: 'Taken in' })),
  });
  const ids = rows.map(({ id }) => id);
  return pieces(tx, ids);
}

async function refuseOtherThanClay(tx: Transaction, ware: NewPieces['ware']): Promise<void> {
  for (const clayId of new Set(ware.flatMap((kind) => kind.clayId ?? []))) {
    const found = await material(tx, clayId);
    if (found.kind !== 'clay')
      throw new Problem(
        'invalid-request',
        `${found.name} is no clay. Name the clay that the piece is made of, or none.`,
      );
  }
}
