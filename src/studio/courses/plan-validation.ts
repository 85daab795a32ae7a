import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { goesThrough } from '../../trade/firing/kiln-room.js';
import { type Fireable, type FiringHeat, outsideRange } from '../../trade/materials/firing-range.js';
import type { Schedule } from '../kilns/contract.js';
import { getKiln, getSchedule } from '../kilns/service.js';
import { getMaterial } from '../materials/service.js';
import { getTaxRate } from '../settings/service.js';
import { getTile } from '../tiles/service.js';
import type { NewPlan, Plan } from './plan-contract.js';
import { partsFit } from './price-tax-split.js';

/** Every clay and glaze against every firing; names that lead nowhere are refused on the way. */
export async function refuseInvalidPlan(tx: Transaction, wanted: NewPlan): Promise<void> {
  const { pieces, materials, firings, parts } = wanted;
  for (const { taxRateId } of parts) await getTaxRate(tx, taxRateId);
  for (const { materialId } of materials) await getMaterial(tx, materialId);
  const wares = new Map<string, Fireable>();
  for (const [i, { clayId, glaze, tileId }] of pieces.entries()) {
    if (tileId !== null) await getTile(tx, tileId);
    if (clayId !== null) wares.set(clayId, await materialOf(tx, 'clay', clayId, `#/pieces/${i}/clayId`));
    if (glaze)
      wares.set(glaze.materialId, await materialOf(tx, 'glaze', glaze.materialId, `#/pieces/${i}/glaze/materialId`));
  }
  const heats: (FiringHeat & Pick<Schedule, 'kind'>)[] = [];
  for (const { kilnId, scheduleId } of firings) {
    await getKiln(tx, kilnId);
    heats.push(await getSchedule(tx, scheduleId));
  }
  refuseOutsideRange([...wares.values()], heats);
  refuseEmptyFirings(wanted, heats);
}

/** A kiln that is fired for nothing would stand in the price with a cost of nothing. */
function refuseEmptyFirings(
  { pieces, broughtLitres }: NewPlan,
  heats: readonly Pick<Schedule, 'name' | 'kind'>[],
): void {
  if (broughtLitres !== null) return;
  const errors = heats.flatMap(({ name, kind }, i) => {
    if (pieces.some(({ comesAs }) => goesThrough(comesAs, kind))) return [];
    const detail = `Nothing goes through ${name}. Say what is fired in it: pieces that students make or that come made, or litres that each student brings.`;
    return [{ pointer: `#/firings/${i}/scheduleId`, detail }];
  });
  const [first] = errors;
  if (first) throw new Problem('invalid-request', first.detail, { errors });
}

async function materialOf(tx: Transaction, kind: 'clay' | 'glaze', id: string, pointer: string) {
  const found = await getMaterial(tx, id);
  if (found.kind === kind) return found;
  const detail = `${found.name} is not a ${kind}. Choose a ${kind} for each piece.`;
  throw new Problem('invalid-request', detail, { errors: [{ pointer, detail }] });
}

export async function refuseTakenName(tx: Transaction, { name }: NewPlan, id?: string): Promise<void> {
  if ((await tx.coursePlan.count({ where: { name, ...(id !== undefined && { NOT: { id } }) } })) === 0) return;
  const detail = `There is a course plan named "${name}" already. Choose another name.`;
  throw new Problem('already-there', detail, { errors: [{ pointer: '#/name', detail }] });
}

/**
 * Refuses to take from under a plan's courses what they stand on: what its places are sold as, a session for each of their dates, and of
 * those to come that no part of their price is more than it.
 * Once one has begun, its firings too: what it really cost is held against the price that was kept, firing by firing.
 */
export async function refuseChangeUnderCourses(
  tx: Transaction,
  now: Date,
  before: Plan,
  wanted: NewPlan,
): Promise<void> {
  const standing = await tx.course.findMany({
    where: { planId: before.id },
    select: {
      ...{ title: true, priceMinor: true, cancelledAt: true, concessions: { select: { priceMinor: true } } },
      sessions: {
        where: { cancelledAt: null },
        select: { startsAt: true },
        orderBy: { ordinal: 'asc' },
        take: 1,
      },
    },
    orderBy: { id: 'desc' },
  });
  const begun = standing.filter(({ sessions }) => sessions.some(({ startsAt }) => startsAt <= now));
  const coming = standing.filter((course) => course.cancelledAt === null && !begun.includes(course));
  const cheaperThanParts = coming.filter(({ priceMinor, concessions }) =>
    [{ priceMinor }, ...concessions].some((at) => !partsFit(wanted, at.priceMinor, 1)),
  );
  const purposes = ({ sessions }: Pick<Plan, 'sessions'>) => sessions.map(({ purpose }) => purpose).join();
  const refuse = (courses: readonly { title: string }[], field: keyof NewPlan, stays: string): void => {
    const [latest, ...others] = courses;
    if (!latest) return;
    const more = others.length === 0 ? 'uses' : `and ${others.length} more courses use`;
    const detail = `"${latest.title}" ${more} this plan: ${stays}. Begin a new plan from this one instead.`;
    throw new Problem('still-needed', detail, { errors: [{ pointer: `#/${field}`, detail }] });
  };
  if (wanted.kind !== before.kind) refuse(standing, 'kind', 'the kind of plan can’t change');
  if (wanted.groupOf !== before.groupOf) refuse(standing, 'groupOf', 'how many people its price includes can’t change');
  if (purposes(wanted) !== purposes(before))
    refuse(standing, 'sessions', 'how many sessions it has and what each is for can’t change');
  refuse(
    cheaperThanParts,
    'parts',
    'the parts with a different VAT rate would be more than its price, or than one of its concessions',
  );
  if ((await heatsOf(tx, wanted)) !== (await heatsOf(tx, before)))
    refuse(begun, 'firings', 'the kinds of its firings and their order can’t change');
}

async function heatsOf(tx: Transaction, { firings }: Pick<Plan, 'firings'>): Promise<string> {
  const kinds: string[] = [];
  for (const { scheduleId } of firings) kinds.push((await getSchedule(tx, scheduleId)).kind);
  return kinds.join();
}

/** Refuses materials that some firing would ruin or leave raw. */
function refuseOutsideRange(materials: readonly Fireable[], firings: readonly FiringHeat[]): void {
  for (const [i, firing] of firings.entries())
    for (const material of materials) {
      const reason = outsideRange(material, firing);
      if (!reason) continue;
      const detail = `${reason} Choose another material or another schedule.`;
      throw new Problem('outside-range', detail, { errors: [{ pointer: `#/firings/${i}/scheduleId`, detail }] });
    }
}
