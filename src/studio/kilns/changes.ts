import { lockRow } from '../../database/lock-row.js';
import { changed, type Transaction } from '../../database/transaction.js';
import { toDate } from '../../database/values.js';
import { Problem } from '../../problems.js';
import { FIRING_KINDS } from '../../trade/firing/kiln-room.js';
import { validateBands } from '../../trade/firing/tariff.js';
import type { KilnWithWear, NewKiln, NewSchedule, NewTariff, Schedule, Tariff } from './contract.js';
import { checkSchedule, sensible } from './schedule-checks.js';
import { dayTaken, getKiln, getSchedule, getTariff, wearOf } from './service.js';

const nameTaken = (what: string, name: string) =>
  new Problem('already-there', `There is a ${what} named "${name}" already. Choose another name.`);
const stays = (sentence: string) => new Problem('still-needed', sentence);

export async function lockKilnToChange(tx: Transaction, id: string): Promise<KilnWithWear> {
  await lockRow(tx, 'kiln', id);
  changed(tx, `kiln ${id}`);
  return getKiln(tx, id);
}

/** Replaces what is said of a kiln. What a settled firing cost, and what a price was worked out with, stays as it was. */
export async function changeKiln(tx: Transaction, id: string, wanted: NewKiln): Promise<KilnWithWear> {
  if ((await tx.kiln.count({ where: { name: wanted.name, id: { not: id } } })) > 0)
    throw nameTaken('kiln', wanted.name);
  const { wearMinor: wear, ...plain } = wanted;
  const kilnWears = { deleteMany: {}, create: FIRING_KINDS.map((kind) => ({ kind, wearMinor: wearOf(wear[kind]) })) };
  await tx.kiln.update({ where: { id }, data: { ...plain, kilnWears } });
  changed(tx, `kiln ${id}`);
  return getKiln(tx, id);
}

export async function removeKiln(tx: Transaction, id: string): Promise<void> {
  const { name } = await getKiln(tx, id);
  const uses = await tx.kiln.findUniqueOrThrow({
    where: { id },
    select: { _count: { select: { firings: true, planFirings: true, testTiles: true } } },
  });
  if (Object.values(uses._count).some((count) => count > 0))
    throw stays(
      `"${name}" is in firings, course plans or test tiles, so it stays. Rename it if you no longer have it.`,
    );
  await tx.kilnWear.deleteMany({ where: { kilnId: id } });
  await tx.kiln.delete({ where: { id } });
  changed(tx, `kiln ${id}`);
}

export async function lockScheduleToChange(tx: Transaction, id: string): Promise<Schedule> {
  await lockRow(tx, 'schedule', id);
  changed(tx, `schedule ${id}`);
  return getSchedule(tx, id);
}

/**
 * Replaces a schedule. Once a firing has begun by it, or a test tile names it, only its name may change; while only plans name it, its
 * kind and its top temperature stay, since their materials were held against these.
 */
export async function changeSchedule(tx: Transaction, id: string, wanted: NewSchedule): Promise<Schedule> {
  checkSchedule(wanted);
  const before = await getSchedule(tx, id);
  if ((await tx.schedule.count({ where: { name: wanted.name, id: { not: id } } })) > 0)
    throw nameTaken('schedule', wanted.name);
  const { name: _, ...steps } = wanted;
  const same = JSON.stringify({ kind: before.kind, cone: before.cone, segments: before.segments });
  const isSame = same === JSON.stringify({ kind: steps.kind, cone: steps.cone, segments: steps.segments });
  if (!isSame && (await hasFired(tx, id)))
    throw stays(
      `Firings or test tiles record "${before.name}" as it is. Add a schedule of another name, and plan by that.`,
    );
  const planned = await tx.planFiring.count({ where: { scheduleId: id } });
  const topC = Math.max(...wanted.segments.map(({ targetC }) => targetC));
  if (planned > 0 && (wanted.kind !== before.kind || topC !== before.topC))
    throw stays(
      `Course plans fire by "${before.name}": its kind and top temperature stay. Add another schedule and choose it in the plans.`,
    );
  const segments = { deleteMany: {}, create: wanted.segments.map((segment, i) => ({ ordinal: i + 1, ...segment })) };
  await tx.schedule.update({ where: { id }, data: { ...wanted, segments } });
  changed(tx, `schedule ${id}`);
  return getSchedule(tx, id);
}

async function hasFired(tx: Transaction, scheduleId: string): Promise<boolean> {
  const begun = await tx.firing.count({ where: { scheduleId, state: { not: 'planned' } } });
  return begun + (await tx.testTile.count({ where: { scheduleId } })) > 0;
}

export async function removeSchedule(tx: Transaction, id: string): Promise<void> {
  const { name } = await getSchedule(tx, id);
  const uses = await tx.schedule.findUniqueOrThrow({
    where: { id },
    select: { _count: { select: { firings: true, planFirings: true, testTiles: true } } },
  });
  if (Object.values(uses._count).some((count) => count > 0))
    throw stays(`"${name}" is in firings, course plans or test tiles, so it stays. Rename it if you no longer use it.`);
  await tx.segment.deleteMany({ where: { scheduleId: id } });
  await tx.schedule.delete({ where: { id } });
  changed(tx, `schedule ${id}`);
}

export async function lockTariff(tx: Transaction, id: string): Promise<Tariff> {
  await lockRow(tx, 'tariff', id);
  return getTariff(tx, id);
}

/** Replaces a tariff. Once a firing was settled by it, only its name may change. */
export async function changeTariff(tx: Transaction, id: string, wanted: NewTariff): Promise<Tariff> {
  sensible('#/bands', () => validateBands(wanted.bands));
  const before = await getTariff(tx, id);
  const { bands, validFrom, name } = wanted;
  const rates = (of: Tariff['bands']) =>
    JSON.stringify(of.map((b) => [b.fromMinute, b.toMinute, Number(b.perKwhMinor)]));
  const isSame = validFrom === before.validFrom && rates(bands) === rates(before.bands);
  if (!isSame && (await tx.firing.count({ where: { tariffId: id } })) > 0)
    throw stays(`Firings were settled by "${before.name}". Add a tariff that begins on the day of the change.`);
  if ((await tx.tariff.count({ where: { validFrom: toDate(validFrom), id: { not: id } } })) > 0)
    throw await dayTaken(tx, validFrom);
  const tariffBands = { deleteMany: {}, create: bands };
  await tx.tariff.update({ where: { id }, data: { name, validFrom: toDate(validFrom), tariffBands } });
  return getTariff(tx, id);
}

export async function removeTariff(tx: Transaction, id: string): Promise<void> {
  const row = await tx.tariff.findUniqueOrThrow({ where: { id }, include: { _count: { select: { firings: true } } } });
  if (row._count.firings > 0)
    throw stays(
      `Firings were settled by "${row.name}", so it stays. For another price add a tariff that begins on the day of the change.`,
    );
  await tx.tariffBand.deleteMany({ where: { tariffId: id } });
  await tx.tariff.delete({ where: { id } });
}
