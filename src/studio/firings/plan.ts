import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { momentInWords } from '../courses/session-dates.js';
import { getKiln, getSchedule } from '../kilns/service.js';
import { getStudio } from '../settings/service.js';
import type { FiringPlan, NewFiring } from './contract.js';
import { assertFiringState, lockFiring, occupies } from './firing.js';
import { lockFiringNumber, lockKiln } from './queries.js';

/** Plans a firing in a kiln that is free then. @returns its id */
export async function planFiring(tx: Transaction, now: Date, wanted: NewFiring): Promise<string> {
  await getKiln(tx, wanted.kilnId);
  await getSchedule(tx, wanted.scheduleId);
  await lockKiln(tx, wanted.kilnId);
  await refuseBusyKiln(tx, now, wanted);
  const id = newId();
  await tx.firing.create({ data: { id, number: (await lockFiringNumber(tx)) + 1, state: 'planned', ...wanted } });
  return id;
}

/** Gives a firing that has not begun another time, because another one overran, say. */
export async function moveFiring(tx: Transaction, now: Date, id: string, to: FiringPlan): Promise<void> {
  const row = await lockFiring(tx, id);
  assertFiringState(row, ['planned'], 'Only a plan can be moved.');
  await lockKiln(tx, row.kilnId);
  await refuseBusyKiln(tx, now, { kilnId: row.kilnId, ...to }, id);
  await tx.firing.update({ where: { id }, data: to });
}

/** @throws Problem kiln-busy, naming the firing that has the kiln then: a plan, or one that is or was really in it */
async function refuseBusyKiln(
  tx: Transaction,
  now: Date,
  wanted: { kilnId: string; plannedFrom: string; plannedTo: string },
  except?: string,
): Promise<void> {
  const [from, to] = [new Date(wanted.plannedFrom), new Date(wanted.plannedTo)];
  const others = await tx.firing.findMany({
    where: { kilnId: wanted.kilnId, ...(except && { id: { not: except } }) },
    orderBy: { plannedFrom: 'asc' },
  });
  for (const other of others) {
    const taken = occupies(other, now) ?? { from: other.plannedFrom, to: other.plannedTo };
    if (taken.from >= to || taken.to <= from) continue;
    const studio = await getStudio(tx);
    const [begin, end] = [momentInWords(taken.from, studio), momentInWords(taken.to, studio)];
    throw new Problem(
      'kiln-busy',
      `Firing ${other.number} has this kiln from ${begin} to ${end}. Choose another time or kiln.`,
      { firingId: other.id },
    );
  }
}
