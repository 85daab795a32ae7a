import type { Prisma } from '../../database/generated/client.js';
import { eachOnce, once, type Transaction } from '../../database/transaction.js';
import { fromDate, fromDecimal, toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { Problem, see } from '../../problems.js';
import { wearPerFiringMinor } from '../../trade/firing/energy.js';
import { FIRING_KINDS } from '../../trade/firing/kiln-room.js';
import { scheduleFigures } from '../../trade/firing/schedule.js';
import { validateBands } from '../../trade/firing/tariff.js';
import { formatDay } from '../../trade/text/format.js';
import { getStudio } from '../settings/service.js';
import type { FiringKind, KilnWithWear, NewKiln, NewSchedule, NewTariff, Schedule, Tariff } from './contract.js';
import { checkSchedule, sensible } from './schedule-checks.js';

const withWear = { kilnWears: true } as const;
const withSegments = { segments: { orderBy: { ordinal: 'asc' } } } as const;
const withBands = { tariffBands: { orderBy: { fromMinute: 'asc' } } } as const;

export async function addKiln(tx: Transaction, wanted: NewKiln): Promise<KilnWithWear> {
  if ((await tx.kiln.count({ where: { name: wanted.name } })) > 0) nameTaken('kiln', wanted.name);
  const { wearMinor: wear, ...plain } = wanted;
  const kilnWears = { create: FIRING_KINDS.map((kind) => ({ kind, wearMinor: wearOf(wear[kind]) })) };
  return showKiln(await tx.kiln.create({ data: { id: newId(), ...plain, kilnWears }, include: withWear }));
}

export const wearOf = (wear: NewKiln['wearMinor'][FiringKind]): number =>
  typeof wear === 'number' ? wear : wearPerFiringMinor(wear.costMinor, wear.firings);

/** A kiln by id, refused with a sentence where there is none. */
export function getKiln(tx: Transaction, id: string): Promise<KilnWithWear> {
  return once(tx, `kiln ${id}`, () => readKiln(tx, id));
}

async function readKiln(tx: Transaction, id: string): Promise<KilnWithWear> {
  const row = await tx.kiln.findUnique({ where: { id }, include: withWear });
  if (!row)
    throw new Problem('not-found', 'No kiln has this id. Look for it on the page Kilns.', see('kilns', '/api/kilns'));
  return showKiln(row);
}

export async function listKilns(tx: Transaction, query: PageQuery) {
  return page(await tx.kiln.findMany({ ...pageArgs(query), include: withWear }), query, showKiln);
}

/** What a firing of a kind wears off a kiln, in minor units. */
export function getWearMinor(of: Pick<KilnWithWear, 'wearMinor'>, kind: FiringKind): number {
  return of.wearMinor[kind];
}

/** The volume inside a kiln, in whole mm³: a box, or a cylinder over a circle or an ellipse. */
export function chamberMm3(inside: Pick<KilnWithWear, 'shape' | 'widthMm' | 'depthMm' | 'heightMm'>): number {
  const boxMm3 = inside.widthMm * inside.depthMm * inside.heightMm;
  return inside.shape === 'rectangular' ? boxMm3 : Math.round((Math.PI / 4) * boxMm3);
}

export async function addSchedule(tx: Transaction, wanted: NewSchedule): Promise<Schedule> {
  checkSchedule(wanted);
  if ((await tx.schedule.count({ where: { name: wanted.name } })) > 0) nameTaken('schedule', wanted.name);
  const segments = { create: wanted.segments.map((segment, i) => ({ ordinal: i + 1, ...segment })) };
  return showSchedule(await tx.schedule.create({ data: { id: newId(), ...wanted, segments }, include: withSegments }));
}

/** A schedule with its segments and what they come to, refused with a sentence where there is none. */
export function getSchedule(tx: Transaction, id: string): Promise<Schedule> {
  return once(tx, `schedule ${id}`, () => readSchedule(tx, id));
}

async function readSchedule(tx: Transaction, id: string): Promise<Schedule> {
  const row = await tx.schedule.findUnique({ where: { id }, include: withSegments });
  if (!row)
    throw new Problem(
      'not-found',
      'No firing schedule has this id. Look for it on the page Kilns.',
      see('kilns', '/api/schedules'),
    );
  return showSchedule(row);
}

/** Those schedules that there are of these, under their ids, in one question to the database. */
export function getSchedulesById(tx: Transaction, ids: readonly string[]): Promise<Map<string, Schedule>> {
  return eachOnce(tx, 'schedule', ids, async (missing) => {
    const rows = await tx.schedule.findMany({ where: { id: { in: missing } }, include: withSegments });
    return new Map(rows.map((row) => [row.id, showSchedule(row)]));
  });
}

export async function listSchedules(tx: Transaction, query: PageQuery) {
  return page(await tx.schedule.findMany({ ...pageArgs(query), include: withSegments }), query, showSchedule);
}

export async function addTariff(tx: Transaction, wanted: NewTariff): Promise<Tariff> {
  sensible('#/bands', () => validateBands(wanted.bands));
  const { bands, validFrom, name } = wanted;
  if ((await tx.tariff.count({ where: { validFrom: toDate(validFrom) } })) > 0) throw await dayTaken(tx, validFrom);
  return showTariff(
    await tx.tariff.create({
      data: { id: newId(), name, validFrom: toDate(validFrom), tariffBands: { create: bands } },
      include: withBands,
    }),
  );
}

/** For a tariff that would begin on the day on which another does. */
export async function dayTaken(tx: Transaction, validFrom: string): Promise<Problem> {
  const begins = formatDay(validFrom, (await tx.studio.findFirst({ select: { locale: true } }))?.locale ?? 'en-GB');
  return new Problem('already-there', `A tariff begins on ${begins} already. Give this one another day.`);
}

/**
 * The tariff in force on a day (YYYY-MM-DD, local): the latest that began by then.
 *
 * @throws Problem tariff-missing where none had begun
 */
export async function findTariffOn(tx: Transaction, day: string): Promise<Tariff> {
  const row = await tx.tariff.findFirst({
    where: { validFrom: { lte: toDate(day) } },
    orderBy: { validFrom: 'desc' },
    include: withBands,
  });
  if (!row) {
    const begins = formatDay(day, (await getStudio(tx)).locale);
    throw new Problem(
      'tariff-missing',
      `No tariff covers ${begins}. Add one that begins by then, on the page Studio.`,
      see('studio', '/api/tariffs'),
    );
  }
  return showTariff(row);
}

/** A tariff by id, refused with a sentence where there is none. */
export async function getTariff(tx: Transaction, id: string): Promise<Tariff> {
  const row = await tx.tariff.findUnique({ where: { id }, include: withBands });
  if (!row)
    throw new Problem(
      'not-found',
      'No tariff has this id. Look for it on the page Studio.',
      see('studio', '/api/tariffs'),
    );
  return showTariff(row);
}

export async function listTariffs(tx: Transaction, query: PageQuery) {
  return page(await tx.tariff.findMany({ ...pageArgs(query), include: withBands }), query, showTariff);
}

function nameTaken(what: string, name: string): never {
  throw new Problem('already-there', `There is a ${what} named "${name}" already. Choose another name.`);
}

function showKiln({ kilnWears, ...row }: Prisma.KilnGetPayload<{ include: typeof withWear }>): KilnWithWear {
  const wear = (kind: FiringKind) => kilnWears.find((w) => w.kind === kind)?.wearMinor ?? 0;
  return {
    ...row,
    ratedKw: fromDecimal(row.ratedKw),
    fillPercent: fromDecimal(row.fillPercent),
    chamberMm3: chamberMm3(row),
    wearMinor: { bisque: wear('bisque'), glaze: wear('glaze'), lustre: wear('lustre') },
  };
}

function showSchedule({ segments, ...row }: Prisma.ScheduleGetPayload<{ include: typeof withSegments }>): Schedule {
  const steps = segments.map(({ ratePerHourC, targetC, holdMinutes }) => ({ ratePerHourC, targetC, holdMinutes }));
  return { ...row, segments: steps, ...scheduleFigures({ cone: row.cone, segments: steps }) };
}

function showTariff({ tariffBands, ...row }: Prisma.TariffGetPayload<{ include: typeof withBands }>): Tariff {
  const bands = tariffBands.map(({ tariffId: _, ...band }) => ({
    ...band,
    perKwhMinor: fromDecimal(band.perKwhMinor),
  }));
  return { ...row, validFrom: fromDate(row.validFrom), bands };
}
