import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { EMPTY_SPACES, type EmptySpace } from '../../trade/firing/cost-split.js';
import { borneBy } from '../../trade/firing/firing-outcomes.js';
import { getKiln } from '../kilns/service.js';
import { getStudio } from '../settings/service.js';
import type { UnusedRoom } from './contract.js';
import { getUsualFill } from './fill.js';
import { sharesOf } from './settlement.js';

const LATEST = 24;
const WITH = {
  schedule: { select: { kind: true } },
  placements: { select: { pieceId: true, outcome: true, studioPays: true } },
  shares: { orderBy: { id: 'asc' }, include: { piece: { select: { firingPaidBy: true } } } },
} as const satisfies Prisma.FiringInclude;
type Row = Prisma.FiringGetPayload<{ include: typeof WITH }>;
type Bearer = 'makersMinor' | 'coursesMinor' | 'studioMinor';
const BEARER = { maker: 'makersMinor', course: 'coursesMinor', studio: 'studioMinor' } as const;

/** What each way to share out the room that nobody used would have meant over the latest firings. It changes nothing. */
export async function getUnusedRoom(tx: Transaction): Promise<UnusedRoom> {
  const studio = await getStudio(tx);
  const rows = await tx.firing.findMany({
    where: { state: 'settled', shares: { some: { pieceId: { not: null } } } },
    include: WITH,
    orderBy: [{ startedAt: 'desc' }, { id: 'desc' }],
    take: LATEST,
    relationLoadStrategy: 'query', // joined, the shares of all firings would be read before the latest are taken
  });
  const choices = EMPTY_SPACES.map((emptySpace) => ({
    ...{ emptySpace, isSet: studio.emptySpace === emptySpace },
    ...{ makersMinor: 0, coursesMinor: 0, studioMinor: 0 },
  }));
  const today = new Map<string, string>(); // the same for all firings of a kiln and kind
  for (const row of rows) {
    const key = `${row.kilnId} ${row.schedule.kind}`;
    if (!row.usualFillPercent && !today.has(key)) today.set(key, await usualToday(tx, row));
    const usualFillPercent = row.usualFillPercent ? fromDecimal(row.usualFillPercent) : (today.get(key) ?? '');
    for (const choice of choices)
      for (const [bearer, minor] of sharedOut(row, choice.emptySpace, usualFillPercent)) choice[bearer] += minor;
  }
  const days = rows.flatMap(({ startedAt }) => (startedAt ? [localDay(startedAt, studio.timeZone)] : [])).sort();
  const costMinor = rows.reduce((sum, row) => sum + costOf(row), 0);
  const span = { from: days[0] ?? null, to: days.at(-1) ?? null };
  return { currency: studio.currency, firings: rows.length, ...span, costMinor, choices };
}

async function usualToday(tx: Transaction, { kilnId, schedule }: Row): Promise<string> {
  return (await getUsualFill(tx, await getKiln(tx, kilnId), schedule.kind)).percent;
}

const costOf = ({ energyMinor, wearMinor, labourMinor }: Row): number =>
  (energyMinor ?? 0) + (wearMinor ?? 0) + (labourMinor ?? 0);

/** The firing's cost shared out anew, by the room that was noted when it was settled. */
function sharedOut(row: Row, emptySpace: EmptySpace, usualFillPercent: string): [Bearer, number][] {
  const ware = row.shares.flatMap(({ pieceId, personId, weightMm3 }) =>
    pieceId === null || personId === null ? [] : [{ pieceId, makerId: personId, roomMm3: Number(weightMm3) }],
  );
  const chamberMm3 = row.shares.reduce((sum, { weightMm3 }) => sum + Number(weightMm3), 0);
  const paidBy = new Map(row.shares.map(({ pieceId, piece }) => [pieceId, piece?.firingPaidBy ?? 'course']));
  const placed = new Map(row.placements.map((placement) => [placement.pieceId, placement]));
  return sharesOf({ costMinor: costOf(row), chamberMm3, usualFillPercent, emptySpace, ware }).map(
    ({ pieceId, amountMinor }): [Bearer, number] => {
      const placement = placed.get(pieceId ?? '');
      const bearer = placement ? borneBy({ ...placement, firingPaidBy: paidBy.get(pieceId) ?? 'course' }) : 'studio';
      return [BEARER[bearer], amountMinor];
    },
  );
}
