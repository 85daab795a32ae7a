import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { momentInWords } from '../courses/session-dates.js';
import { getStudio } from '../settings/service.js';
import { noteEach } from '../ware/service.js';
import { assertFiringState, lockFiring, occupies } from './firing.js';
import { judgeLoad } from './loading.js';
import { lockKiln } from './queries.js';
import { refuseFuture } from './request-checks.js';

/** Starts a planned firing, whenever that was planned. What stands in it is judged once more: ware may have been broken since. */
export async function startFiring(tx: Transaction, now: Date, id: string, startedAt: Date): Promise<void> {
  const row = await lockFiring(tx, id);
  assertFiringState(row, ['planned'], 'This firing has already started.');
  refuseFuture(startedAt, now, '#/startedAt');
  await lockKiln(tx, row.kilnId);
  await refuseFullKiln(tx, now, row.kilnId, startedAt);
  const placements = await tx.placement.findMany({ where: { firingId: id } });
  const ware = await judgeLoad(tx, row, placements);
  const layers = new Map(placements.map((placement) => [placement.pieceId, placement.layer]));
  await noteEach(
    tx,
    startedAt,
    ware.map(({ id: pieceId, stage }) => ({
      ...{ pieceId, stage, boardId: null, note: `In firing ${row.number}, layer ${layers.get(pieceId)}` },
    })),
  );
  await tx.firing.update({ where: { id }, data: { state: 'firing', startedAt } });
}

/** A kiln holds one load: the one before must be out of it, and must have been by then. */
async function refuseFullKiln(tx: Transaction, now: Date, kilnId: string, startedAt: Date): Promise<void> {
  const others = await tx.firing.findMany({ where: { kilnId, startedAt: { not: null } } });
  for (const other of others) {
    if (other.state === 'firing')
      throw new Problem('kiln-busy', `Firing ${other.number} is still in this kiln. Record its unloading first.`, {
        firingId: other.id,
      });
    const taken = occupies(other, now);
    if (taken && taken.from <= startedAt && startedAt < taken.to)
      throw new Problem(
        'kiln-busy',
        `Firing ${other.number} was in this kiln until ${momentInWords(taken.to, await getStudio(tx))}. Look at the time of this start again.`,
        { firingId: other.id },
      );
  }
}
