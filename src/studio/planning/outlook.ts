import type { Transaction } from '../../database/transaction.js';
import { addDays, localDay } from '../../trade/calendar.js';
import { moreToCome } from '../../trade/demand.js';
import { groupBy } from '../../trade/group-by.js';
import { stockOutlook } from '../../trade/outlook.js';
import { plansById } from '../courses/plans.js';
import { askingForCount, holdings, type OnOrder, onOrder, perishing } from '../materials/queries.js';
import type { Studio } from '../settings/contract.js';
import { studio } from '../settings/service.js';
import { type ComingCourse, comingCourses } from './coming.js';
import type { OutlookItem } from './contract.js';
import { type Enrolment, enrolments } from './enrolment.js';
import { type Usage, usagePerStudent } from './materials.js';
import { drawnByCourse } from './queries.js';

type Draws = { usage: Usage; course: ComingCourse };

/**
 * Each material that a coming course draws, against the shelf, day by day; what must be ordered soonest first. Every course is
 * reckoned as held: clay that is there for a course that falls through keeps for the next one.
 */
export async function outlook(tx: Transaction, now: Date): Promise<OutlookItem[]> {
  const home = await studio(tx);
  const coming = await comingCourses(tx, now);
  const usages = new Map<string, Usage[]>();
  for (const recipe of await plansById(tx, [...new Set(coming.map(({ planId }) => planId))]))
    usages.set(recipe.id, await usagePerStudent(tx, recipe, home));

  const draws = coming.flatMap((course) => (usages.get(course.planId) ?? []).map((usage) => ({ usage, course })));
  const byMaterial = groupBy(draws, ({ usage }) => usage.material.id);

  const ids = [...byMaterial.keys()];
  const courseIds = coming.map(({ id }) => id);
  const drawn = await drawnByCourse(tx, courseIds);
  const held = await holdings(tx, ids);
  const asking = await askingForCount(tx, ids);
  const ordered = await onOrder(tx, ids);
  const spoiling = groupBy(await perishing(tx, ids), ({ materialId }) => materialId);
  const enrolmentOf = await enrolments(tx, now, home);
  const chances = new Map(coming.map((course) => [course.id, chancesOf(course, enrolmentOf(course.planId))]));
  const today = localDay(now, home.timeZone);
  return [...byMaterial.values()]
    .map((draws) => itemOf(draws, { drawn, held, asking, ordered, spoiling, chances, today, home }))
    .sort((a, b) => urgency(a).localeCompare(urgency(b)) || a.name.localeCompare(b.name));
}

/** Nobody can book on a course that has begun. */
const chancesOf = ({ places, booked, begun }: ComingCourse, { alpha, beta }: Enrolment): number[] =>
  begun ? [1] : moreToCome(places, booked, alpha, beta);

const urgency = ({ orderBy }: OutlookItem): string => orderBy ?? '9999';

type Known = {
  drawn: ReadonlyMap<string, number>;
  held: ReadonlyMap<string, { onHand: number }>;
  asking: ReadonlySet<string>;
  ordered: readonly OnOrder[];
  spoiling: ReadonlyMap<string, { day: string; quantity: number }[]>;
  chances: ReadonlyMap<string, readonly number[]>;
  today: string;
  home: Studio;
};

function itemOf(draws: readonly Draws[], known: Known): OutlookItem {
  const { id: materialId, name, unit, packQuantity, leadTimeDays, shelfLifeDays } = (draws[0] as Draws).usage.material;
  const demands = draws.map(({ usage, course }) => ({
    booked: course.booked,
    more: known.chances.get(course.id) ?? [1],
    perStudent: usage.quantity,
    drawn: known.drawn.get(`${course.id} ${materialId}`) ?? 0,
    sessions: drawingSessions(usage, course).map(({ startsAt, minutes }) => ({
      day: laterOf(localDay(startsAt, known.home.timeZone), known.today), // what is overdue is needed today
      weight: minutes,
    })),
  }));
  const onHand = known.held.get(materialId)?.onHand ?? 0;
  const coming = known.ordered.filter((order) => order.materialId === materialId);
  const arrivals = coming.map(({ expectedOn, quantity }) => ({ day: arrivalOf(expectedOn, known.today), quantity }));
  const keepsFrom = (day: string) => addDays(day, shelfLifeDays ?? 0);
  const useBy = [
    ...(known.spoiling.get(materialId) ?? []),
    ...(shelfLifeDays === null ? [] : arrivals.map(({ day, quantity }) => ({ day: keepsFrom(day), quantity }))),
  ];
  const found = stockOutlook({ onHand, arrivals, useBy, demands, packQuantity, leadTimeDays });
  return {
    ...{ materialId, name, unit, packQuantity, leadTimeDays, onHand, asksForCount: known.asking.has(materialId) },
    onOrder: coming.map(({ materialId: _, ...order }) => order),
    needs: draws.map(({ course: { id: courseId, title } }, i) => ({
      ...{ courseId, title, day: found.rows.find(({ drawing }) => drawing.includes(i))?.day ?? known.today },
      ...{ booked: found.needs[i]?.booked ?? 0, expected: found.needs[i]?.expected ?? 0 },
    })),
    rows: found.rows.map(({ drawing, shortChance, ...row }) => ({
      ...row,
      shortChance: shortChance.toFixed(6),
      courseIds: drawing.map((i) => draws[i]?.course.id ?? ''),
    })),
    ...{ shortOn: found.shortOn, orderBy: found.orderBy, packs: found.packs, spoils: found.spoils },
  };
}

/** What should have come before today isn't here, so that nobody can count on it before tomorrow. */
const arrivalOf = (expectedOn: string, today: string): string => (expectedOn < today ? addDays(today, 1) : expectedOn);

const laterOf = (a: string, b: string): string => (a < b ? b : a);

/** Clay goes over the making sessions by their minutes, glaze over the glazing sessions; all else is laid out at the first. */
function drawingSessions({ use }: Usage, { sessions }: ComingCourse): ComingCourse['sessions'] {
  const first = sessions.slice(0, 1);
  if (use === 'other') return first;
  const drawing = sessions.filter(({ purpose }) => purpose === (use === 'clay' ? 'making' : 'glazing'));
  if (drawing.length > 0) return drawing;
  return use === 'clay' ? first : sessions.slice(-1);
}
