import { inOrder } from '../../database/find-page.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import { BEFORE_FIRING, ELECTRICIAN, UNTIL_UNLOADED } from '../../documents/kiln-words.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { momentsOf } from '../settings/days.js';
import { getStudio } from '../settings/service.js';
import { getPiecesById } from '../ware/service.js';
import type { Firing, FiringInDetail, FiringQuery } from './contract.js';
import { FIRING_INCLUDE, type FiringRow, findFiring, occupies } from './firing.js';
import { cautionsInKilns } from './hazards.js';
import { findFirings } from './queries.js';

const CAUTIONS: Partial<Record<Firing['state'], string>> = {
  planned: BEFORE_FIRING.join(' '),
  firing: UNTIL_UNLOADED.join(' '),
  failed: ELECTRICIAN,
};

type Plan = Pick<FiringRow, 'id' | 'number' | 'kilnId' | 'plannedFrom' | 'plannedTo'>;

/** The first plan of the same kiln into which a firing that has begun runs. What happened stands; the plan has to move. */
function overrunBy(row: FiringRow, plans: readonly Plan[], now: Date): Firing['overruns'] {
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

function show(row: FiringRow, pieces: number, plans: readonly Plan[], now: Date): Firing {
  const { id, number, kilnId, scheduleId, state, failedBecause, labourMinutes } = row;
  return {
    ...{ id, number, kilnId, scheduleId, state, failedBecause, labourMinutes },
    ...{ kilnName: row.kiln.name, scheduleName: row.schedule.name, kind: row.schedule.kind },
    ...{ plannedFrom: row.plannedFrom.toISOString(), plannedTo: row.plannedTo.toISOString() },
    startedAt: row.startedAt?.toISOString() ?? null,
    endedAt: row.endedAt?.toISOString() ?? null,
    unloadedAt: row.unloadedAt?.toISOString() ?? null,
    pieces,
    overruns: overrunBy(row, plans, now),
    caution: CAUTIONS[state] ?? null,
  };
}

export async function listFirings(tx: Transaction, now: Date, query: FiringQuery) {
  const { ids, ...found } = await findFirings(tx, query, await momentsOf(tx, query));
  const rows = inOrder(ids, await tx.firing.findMany({ where: { id: { in: ids } }, include: FIRING_INCLUDE }));
  const plans = await plansOf(tx);
  const loads = await tx.placement.groupBy({ by: ['firingId'], where: { firingId: { in: ids } }, _count: true });
  const loaded = new Map(loads.map(({ firingId, _count }) => [firingId, _count]));
  return { items: rows.map((row) => show(row, loaded.get(row.id) ?? 0, plans, now)), ...found };
}

/** A firing with what stands in the kiln, layer by layer, and the readings of its meter. */
export async function getFiring(tx: Transaction, now: Date, id: string): Promise<FiringInDetail> {
  const row = await findFiring(tx, id);
  const placements = await tx.placement.findMany({
    where: { firingId: id },
    orderBy: [{ layer: 'asc' }, { pieceId: 'asc' }],
  });
  const readings = await tx.reading.findMany({ where: { firingId: id }, orderBy: { at: 'asc' } });
  const ware = new Map(
    (
      await getPiecesById(
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
  const { locale } = await getStudio(tx);
  return {
    ...show(row, placements.length, await plansOf(tx), now),
    layers,
    hazards: (await cautionsInKilns(tx, [load], locale)).get(id) ?? [],
    readings: readings.map(({ at, kwh }) => ({ at: at.toISOString(), kwh: fromDecimal(kwh) })),
  };
}
