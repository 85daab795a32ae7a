import type { Transaction } from '../../database/transaction.js';
import { type Outcome, stageAfter } from '../../trade/firing/firing-outcomes.js';
import { momentInWords } from '../courses/session-dates.js';
import { getStudio } from '../settings/service.js';
import { findBoard, getPiecesById, lockPieces, noteEach } from '../ware/service.js';
import { type Failure, FIRING_HOURS_MAX, type Unloading } from './contract.js';
import { assertFiringState, lockFiring } from './firing.js';
import { listNames, refuseField, refuseFuture } from './request-checks.js';

type Opened = Pick<Unloading, 'endedAt' | 'unloadedAt' | 'boardId'>;
type Out = { pieceId: string; outcome: Outcome; note: string };

/** Records what came out of a kiln, and how each piece turned out. */
export async function unloadFiring(tx: Transaction, now: Date, id: string, wanted: Unloading): Promise<void> {
  const row = await lockFiring(tx, id);
  assertFiringState(row, ['firing'], 'Only a firing that was started is unloaded.');
  const times = await whenOpened(tx, now, row.startedAt, wanted);
  await refuseUnaccounted(tx, id, wanted.outcomes);
  await tx.firing.update({ where: { id }, data: { state: 'unloaded', ...times } });
  await takeOut(tx, row, times.unloadedAt, wanted.boardId, wanted.outcomes);
}

/**
 * Records that a firing failed: an element, the power, a schedule that ran wild. What did not break waits where another firing of
 * its kind takes it from; the cost is the studio's.
 */
export async function failFiring(tx: Transaction, now: Date, id: string, wanted: Failure): Promise<void> {
  const row = await lockFiring(tx, id);
  assertFiringState(row, ['firing'], 'Only a firing that was started can fail; a plan is moved.');
  const times = await whenOpened(tx, now, row.startedAt, wanted);
  const placements = await tx.placement.findMany({ where: { firingId: id } });
  const broken = new Set(wanted.brokenPieceIds);
  const strange = wanted.brokenPieceIds.filter((pieceId) => !placements.some((one) => one.pieceId === pieceId));
  if (strange.length > 0) refuseField('#/brokenPieceIds', `These were not in the kiln: ${listNames(strange)}.`);
  const outcomes = placements.map(({ pieceId }) => ({
    ...{ pieceId, outcome: broken.has(pieceId) ? ('broken' as const) : ('refire' as const), note: '' },
  }));
  await tx.firing.update({ where: { id }, data: { state: 'failed', failedBecause: wanted.because, ...times } });
  await takeOut(tx, row, times.unloadedAt, wanted.boardId, outcomes);
}

async function whenOpened(
  tx: Transaction,
  now: Date,
  startedAt: Date | null,
  wanted: Opened,
): Promise<{ endedAt: Date; unloadedAt: Date }> {
  const endedAt = new Date(wanted.endedAt);
  const unloadedAt = wanted.unloadedAt === undefined ? now : new Date(wanted.unloadedAt);
  refuseFuture(unloadedAt, now, '#/unloadedAt');
  const started = startedAt ?? endedAt;
  const firedHours = (endedAt.getTime() - started.getTime()) / 3_600_000;
  if (firedHours <= 0 || firedHours > FIRING_HOURS_MAX) {
    const start = momentInWords(started, await getStudio(tx));
    refuseField('#/endedAt', `It started on ${start}; it must have ended after that, and within a week.`);
  }
  if (unloadedAt < endedAt) refuseField('#/unloadedAt', 'It is unloaded after it ended. Look at both times again.');
  return { endedAt, unloadedAt };
}

/** Every piece that went in comes out, one way or another. */
async function refuseUnaccounted(tx: Transaction, firingId: string, outcomes: readonly Out[]): Promise<void> {
  const placed = (await tx.placement.findMany({ where: { firingId } })).map(({ pieceId }) => pieceId);
  const missing = placed.filter((pieceId) => !outcomes.some((out) => out.pieceId === pieceId));
  if (missing.length > 0) {
    const codes = (await getPiecesById(tx, missing)).map(({ code }) => code);
    refuseField(
      '#/outcomes',
      `Say of each piece how it came out: good, refire or broken. Missing: ${listNames(codes)}.`,
    );
  }
  const strange = outcomes.filter((out) => !placed.includes(out.pieceId)).map((out) => out.pieceId);
  if (strange.length > 0) refuseField('#/outcomes', `These were not in the kiln: ${listNames(strange)}.`);
}

/** Notes on each piece what the firing made of it. The firing is no longer on by now, or the database would keep its ware in. */
async function takeOut(
  tx: Transaction,
  row: { id: string; number: number; schedule: { kind: 'bisque' | 'glaze' | 'lustre' } },
  at: Date,
  boardId: string | null,
  outcomes: readonly Out[],
): Promise<void> {
  if (boardId !== null) await findBoard(tx, boardId);
  await lockPieces(
    tx,
    outcomes.map((out) => out.pieceId),
  );
  for (const outcome of ['good', 'refire', 'broken'] as const) {
    const pieceIds = outcomes.filter((out) => out.outcome === outcome).map((out) => out.pieceId);
    if (pieceIds.length > 0)
      await tx.placement.updateMany({ where: { firingId: row.id, pieceId: { in: pieceIds } }, data: { outcome } });
  }
  const found = outcomes.map(({ pieceId, outcome, note }) => ({
    ...{ pieceId, boardId, stage: stageAfter(row.schedule.kind, outcome) },
    note: `Out of firing ${row.number}: ${outcome}${note ? `; ${note}` : ''}`,
  }));
  await noteEach(tx, at, found);
}
