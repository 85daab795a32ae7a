import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import { BEFORE_FIRING, ELECTRICIAN, UNTIL_UNLOADED } from '../../documents/kiln-words.js';
import { page, pageArgs } from '../../http/paging.js';
import { Problem } from '../../problems.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { studio } from '../settings/service.js';
import { pieces } from '../ware/service.js';
import type { Firing, FiringInDetail, FiringQuery } from './contract.js';
import { cautionsInKilns } from './hazards.js';
import { lockFiringRow } from './queries.js';

const WITH = {
  kiln: { select: { name: true } },
  schedule: { select: { name: true, kind: true } },
  _count: { select: { placements: true } },
} as const;
type Row = Prisma.FiringGetPayload<{ include: typeof WITH }>;

const CAUTIONS: Partial<Record<Firing['state'], string>> = {
  planned: BEFORE_FIRING.join(' '),
  firing: UNTIL_UNLOADED.join(' '),
  failed: ELECTRICIAN,
};

/** A firing with its row locked until this transaction ends: who changes its state, load or readings does this first. */
export async function lockFiring(tx: Transaction, id: string): Promise<Row> {
  await lockFiringRow(tx, id);
  return find(tx, id);
}

async function find(tx: Transaction, id: string): Promise<Row> {
  const row = await tx.firing.findUnique({ where: { id }, include: WITH });
  if (!row) throw new Problem('not-found', 'No firing has this id. Look it up under /api/firings.');
  return row;
}

/** Refuses what can't be done at this point of a firing, and says what can. */
export function refuseUnless(row: Pick<Row, 'number' | 'state'>, states: readonly Row['state'][], todo: string): void {
  if (!states.includes(row.state))
    throw new Problem('wrong-state', `Firing ${row.number} is ${row.state}. ${todo}`, { state: row.state });
}

/** From when to when a firing that has begun has its kiln, as far as is known by now. */
export function occupies(
  row: Pick<Row, 'startedAt' | 'unloadedAt' | 'plannedFrom' | 'plannedTo'>,
  now: Date,
): { from: Date; to: Date } | null {
  if (row.startedAt === null) return null;
  const asPlanned = row.startedAt.getTime() + row.plannedTo.getTime() - row.plannedFrom.getTime();
  return { from: row.startedAt, to: row.unloadedAt ?? new Date(Math.max(asPlanned, now.getTime())) };
}

type Plan = Pick<Row, 'id' | 'number' | 'kilnId' | 'plannedFrom' | 'plannedTo'>;

/** The first plan of the same kiln into which a firing that has begun runs. What happened stands; the plan has to move. */
function overrunBy(row: Row, plans: readonly Plan[], now: Date): Firing['overruns'] {
  const taken = occupies(row, now);
  if (!taken) return null;
  const hit = plans.find(
    (plan) => plan.kilnId === row.kilnId && plan.plannedFrom < taken.to && plan.plannedTo > taken.from,
  );
  if (!hit) return null;
  const { id, number, plannedFrom, plannedTo } = hit;
  return { firingId: id, number, plannedFrom: plannedFrom.toISOString(), plannedTo: plannedTo.toISOString() };
}

const plansOf = (tx: Transaction): Promise<Plan[]> =>
  tx.firing.findMany({ where: { state: 'planned' }, orderBy: { plannedFrom: 'asc' } });

function show(row: Row, plans: readonly Plan[], now: Date): Firing {
  const { id, number, kilnId, scheduleId, state, failedBecause, labourMinutes } = row;
  return {
    ...{ id, number, kilnId, scheduleId, state, failedBecause, labourMinutes },
    ...{ kilnName: row.kiln.name, scheduleName: row.schedule.name, kind: row.schedule.kind },
    ...{ plannedFrom: row.plannedFrom.toISOString(), plannedTo: row.plannedTo.toISOString() },
    startedAt: row.startedAt?.toISOString() ?? null,
    endedAt: row.endedAt?.toISOString() ?? null,
    unloadedAt: row.unloadedAt?.toISOString() ?? null,
    pieces: row._count.placements,
    overruns: overrunBy(row, plans, now),
    caution: CAUTIONS[state] ?? null,
  };
}

export async function firings(tx: Transaction, now: Date, query: FiringQuery) {
  const { kilnId, state } = query;
  const where = { ...(kilnId && { kilnId }), ...(state && { state }) };
  const rows = await tx.firing.findMany({ include: WITH, ...pageArgs(query, where) });
  const plans = await plansOf(tx);
  return page(rows, query, (row) => show(row, plans, now));
}

/** A firing with what stands in the kiln, layer by layer, and the readings of its meter. */
export async function firing(tx: Transaction, now: Date, id: string): Promise<FiringInDetail> {
  const row = await find(tx, id);
  const placements = await tx.placement.findMany({
    where: { firingId: id },
    orderBy: [{ layer: 'asc' }, { pieceId: 'asc' }],
  });
  const readings = await tx.reading.findMany({ where: { firingId: id }, orderBy: { at: 'asc' } });
  const ware = new Map(
    (
      await pieces(
        tx,
        placements.map((p) => p.pieceId),
      )
    ).map((piece) => [piece.id, piece]),
  );
  const inKiln = placements.flatMap(({ pieceId, layer, studioPays, hotterBecause, outcome }) => {
    const piece = ware.get(pieceId);
    return piece ? [{ ...piece, pieceId, layer, studioPays, hotterBecause, outcome }] : [];
  });
  const layers = [...groupBy(inKiln, (one) => one.layer)].map(([layer, found]) => ({ layer, pieces: found }));
  const load = { id, kind: row.schedule.kind, pieceIds: [...ware.keys()] };
  const { locale } = await studio(tx);
  return {
    ...show(row, await plansOf(tx), now),
    layers,
    hazards: (await cautionsInKilns(tx, [load], locale)).get(id) ?? [],
    readings: readings.map(({ at, kwh }) => ({ at: at.toISOString(), kwh: fromDecimal(kwh) })),
  };
}
