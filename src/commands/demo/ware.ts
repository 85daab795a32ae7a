import { takePayment } from '../../studio/accounts/payments/payments.js';
import { NewPieces } from '../../studio/ware/contract.js';
import { recordStage } from '../../studio/ware/notes.js';
import { addLayersToEach, addPieces } from '../../studio/ware/service.js';
import { mayBecome } from '../../trade/firing/ware-stages.js';
import { firingParts } from './bookings.js';
import type { DemoContext } from './context.js';
import type { DemoEventOf } from './event-log.js';

export async function takeInDemoWare({ tx, now, names }: DemoContext, entry: DemoEventOf<'intake'>): Promise<void> {
  const wanted = NewPieces.parse({
    makerId: names.id('person', entry.maker),
    courseId: entry.course && names.id('course', entry.course),
    firingPaidBy: entry.paidBy,
    boardId: names.id('board', entry.board),
    stage: entry.stage,
    ware: entry.ware.map(({ clay, ...kind }) => ({ ...kind, clayId: clay ? names.id('material', clay) : null })),
  });
  await addPieces(tx, now, wanted);
}

export async function glaze({ tx, now, names }: DemoContext, entry: DemoEventOf<'glaze'>): Promise<void> {
  const layers = entry.layers.map(({ material, ...layer }) => ({
    ...layer,
    materialId: names.id('material', material),
  }));
  const waiting = await tx.piece.findMany({
    where: { boardId: names.id('board', entry.board), stage: 'bisque', form: { in: entry.forms } },
    orderBy: { serial: 'asc' },
  });
  const ids = waiting.map(({ id }) => id);
  if (ids.length > 0) await addLayersToEach(tx, now, ids, { layers, note: '', singleFiring: false });
}

/** What stands on a board and can become that, does; what is there already stays as it is. */
export async function note({ tx, now, names }: DemoContext, entry: DemoEventOf<'note'>): Promise<void> {
  const boardId = names.id('board', entry.board);
  const standing = await tx.piece.findMany({ where: { boardId }, orderBy: { serial: 'asc' } });
  const noted = standing.filter(({ stage }) => stage !== entry.stage && mayBecome(stage, entry.stage));
  const ids = noted.map(({ id }) => id);
  await recordStage(tx, now, ids, entry.stage, { note: '' });
}

/** A maker comes for all that is ready, and pays what is owed for its firing. */
export async function collect(
  { tx, now, names }: DemoContext,
  { maker, paysBy }: DemoEventOf<'collect'>,
): Promise<void> {
  const personId = names.id('person', maker);
  const parts = await firingParts(tx, personId);
  if (parts.length > 0) await takePayment(tx, now, { personId, method: paysBy, for: parts });
  const ready = await tx.piece.findMany({ where: { makerId: personId, stage: 'ready' }, orderBy: { serial: 'asc' } });
  const ids = ready.map(({ id }) => id);
  if (ids.length > 0) await recordStage(tx, now, ids, 'collected', { note: '' });
}
