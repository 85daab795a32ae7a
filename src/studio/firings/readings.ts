import type { Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import { Problem } from '../../problems.js';
import { momentInWords } from '../courses/session-dates.js';
import { getStudio } from '../settings/service.js';
import type { NewReading, Reading } from './contract.js';
import { lockFiring } from './firing.js';
import { refuseFuture } from './request-checks.js';

/**
 * Enters what the kiln's meter showed. A reading of the same moment is corrected by it; once a firing is settled its readings stand.
 */
export async function addReading(tx: Transaction, now: Date, firingId: string, wanted: NewReading): Promise<Reading> {
  const row = await lockFiring(tx, firingId);
  if (row.energyKwh !== null)
    throw new Problem(
      'wrong-state',
      `Firing ${row.number} is settled: its cost was calculated from its readings, so they can’t change.`,
    );
  const at = wanted.at === undefined ? now : new Date(wanted.at);
  refuseFuture(at, now, '#/at');
  const before = await tx.reading.findFirst({ where: { firingId, at: { lt: at } }, orderBy: { at: 'desc' } });
  const after = await tx.reading.findFirst({ where: { firingId, at: { gt: at } }, orderBy: { at: 'asc' } });
  if (before?.kwh.gt(wanted.kwh)) await refuseFalling(tx, fromDecimal(before.kwh), before.at, wanted.kwh, at);
  if (after?.kwh.lt(wanted.kwh)) await refuseFalling(tx, wanted.kwh, at, fromDecimal(after.kwh), after.at);
  const reading = await tx.reading.upsert({
    where: { firingId_at: { firingId, at } },
    create: { firingId, at, kwh: wanted.kwh },
    update: { kwh: wanted.kwh },
  });
  return { at: reading.at.toISOString(), kwh: fromDecimal(reading.kwh) };
}

async function refuseFalling(tx: Transaction, from: string, fromAt: Date, to: string, toAt: Date): Promise<never> {
  const studio = await getStudio(tx);
  throw new Problem(
    'reading-impossible',
    `The meter would fall from ${from} kWh (${momentInWords(fromAt, studio)}) to ${to} kWh (${momentInWords(toAt, studio)}). ` +
      'Look at both figures again; to correct one, enter it again with the same time. ' +
      'Where the meter was changed or began again at zero, add its last old figure to each new one.',
  );
}
