import type { Transaction } from '../../database/transaction.js';
import { digest } from '../../http/digest.js';
import { addDays, localDay } from '../../trade/calendar/calendar.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { remember } from '../../trade/maths/remember.js';
import { type Outlook, type StockOnHand, stockOutlook } from '../../trade/stock/outlook.js';
import { type LotLeft, listAllAskingForCount, listLotsLeft, listOnOrder, type OnOrder } from '../materials/queries.js';
import { getStudio } from '../settings/service.js';
import type { OutlookItem } from './contract.js';
import { listDirectDemands, type MaterialDemand } from './draws.js';
import { addBatchDemands, lasting, listMixesFor } from './mix-batches.js';
import { listUpcomingCourses } from './upcoming-courses.js';

/**
 * Each material that a coming course draws, or a batch that must be mixed for one, against the shelf, day by day; what must be
 * ordered soonest first.
 *
 * @param lapsed bookings whose hold has run out, where they are known already
 */
export async function getOutlook(tx: Transaction, now: Date, lapsed?: readonly string[]): Promise<OutlookItem[]> {
  const studio = await getStudio(tx);
  const coming = await listUpcomingCourses(tx, now, lapsed);
  const direct = await listDirectDemands(tx, now, coming, studio);
  const mixes = await listMixesFor(tx, [...direct.keys()]);
  const ids = [...new Set([...direct.keys(), ...mixes.materialIds])];
  const lots = await listLotsLeft(tx, ids);
  const demands = addBatchDemands(direct, mixes, lasting(lots));
  const perishing = lots.flatMap(({ day, ...lot }) => (day === null ? [] : [{ ...lot, day }]));
  const known: Known = {
    lots: groupBy(lots, ({ materialId }) => materialId),
    asking: new Set((await listAllAskingForCount(tx)).map(({ materialId }) => materialId)),
    ordered: await listOnOrder(tx, ids),
    spoiling: groupBy(perishing, ({ materialId }) => materialId),
    today: localDay(now, studio.timeZone),
  };
  return [...demands.values()]
    .map((demand) => itemOf(demand, known))
    .sort((a, b) => urgency(a).localeCompare(urgency(b)) || a.name.localeCompare(b.name));
}

const urgency = ({ orderBy }: OutlookItem): string => orderBy ?? '9999';

type Known = {
  lots: ReadonlyMap<string, readonly LotLeft[]>;
  asking: ReadonlySet<string>;
  ordered: readonly OnOrder[];
  spoiling: ReadonlyMap<string, { day: string; quantity: number }[]>;
  today: string;
};

/** The same stock, draws and day give the same outlook, and Today asks for it all day long. */
const worked = remember<Outlook>(100);

function itemOf({ material, courses, mixId }: MaterialDemand, known: Known): OutlookItem {
  const { id: materialId, name, unit, packQuantity, leadTimeDays, shelfLifeDays } = material;
  const demands = courses.map(({ demand }) => demand);
  const onHand = (known.lots.get(materialId) ?? []).reduce((sum, lot) => sum + lot.quantity, 0);
  const coming = known.ordered.filter((order) => order.materialId === materialId);
  const arrivals = coming.map(({ expectedOn, quantity }) => ({ day: arrivalOf(expectedOn, known.today), quantity }));
  const keepsFrom = (day: string) => addDays(day, shelfLifeDays ?? 0);
  const useBy = [
    ...(known.spoiling.get(materialId) ?? []),
    ...(shelfLifeDays === null ? [] : arrivals.map(({ day, quantity }) => ({ day: keepsFrom(day), quantity }))),
  ];
  const stock: StockOnHand = { onHand, arrivals, useBy, demands, packQuantity, leadTimeDays };
  const found = worked(digest(stock), () => stockOutlook(stock));
  const firstDays = new Map<number, string>();
  for (const { day, drawing } of found.rows) for (const i of drawing) if (!firstDays.has(i)) firstDays.set(i, day);
  return {
    ...{
      materialId,
      name,
      unit,
      mixId,
      packQuantity,
      leadTimeDays,
      onHand,
      asksForCount: known.asking.has(materialId),
    },
    onOrder: coming.map(({ materialId: _, ...order }) => order),
    needs: courses.map(({ course: { id: courseId, title }, mixes }, i) => ({
      ...{ courseId, title, mixes, day: firstDays.get(i) ?? known.today },
      ...{ booked: found.needs[i]?.booked ?? 0, expected: found.needs[i]?.expected ?? 0 },
    })),
    rows: found.rows.map(({ drawing, shortChance, ...row }) => ({
      ...row,
      shortChance: shortChance.toFixed(6),
      courseIds: drawing.map((i) => courses[i]?.course.id ?? ''),
    })),
    ...{ needAtWorst: found.needAtWorst, atMost: found.atMost, shortOn: found.shortOn },
    ...{ orderBy: found.orderBy, packs: found.packs, spoils: found.spoils },
  };
}

/** What should have come before today isn't here, so that nobody can count on it before tomorrow. */
const arrivalOf = (expectedOn: string, today: string): string => (expectedOn < today ? addDays(today, 1) : expectedOn);
