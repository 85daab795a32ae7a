import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { Decimal } from '../../trade/money/money.js';
import type { CostLine, PriceInputs } from '../../trade/pricing/course-price.js';
import { surplusByHour } from '../../trade/pricing/input-changes.js';
import type { Course } from '../courses/contract.js';
import type { Plan } from '../courses/plan-contract.js';
import { getPlan } from '../courses/service.js';
import type { Studio } from '../settings/contract.js';
import { getStudio, getTaxRate, listRooms, taxTreatmentOf } from '../settings/service.js';
import { getEnrolments } from './enrolment.js';
import { firingCostLines } from './firings.js';
import { unreclaimedVat } from './input-vat.js';
import { getUsagePerStudent, materialCostLines } from './materials.js';
import { getPlanTaxParts, paidIn, pricePartsOf, soldOf, vatPercentOf } from './price-terms.js';

/** What is priced: a plan, on the terms of one of its courses or before it has any. */
type Offer = {
  plan: Plan;
  course: Course | null;
  taxRateId: string;
  places: number;
  minimum: number;
  /** whose tariff holds */
  lastSession: Date;
};

/** Of a course, as it is offered. */
export async function getCourseInputs(tx: Transaction, now: Date, course: Course): Promise<PriceInputs> {
  const { taxRateId, places, minimum, sessions } = course;
  const plan = await getPlan(tx, course.planId);
  const learntBefore = earlierOf(now, sessions[0]?.startsAt);
  const lastSession = new Date(sessions.at(-1)?.startsAt ?? now);
  const offer = { plan, course, taxRateId, places, minimum, lastSession };
  const inputs = await inputsOf(tx, offer, await getShared(tx, learntBefore));
  return { ...inputs, mostPlaces: await mostPlaces(tx, course) };
}

/** Of a plan, as if it were held today. */
export async function getPlanInputs(
  tx: Transaction,
  now: Date,
  plan: Plan,
  taxRateId: string,
  shared?: Shared,
): Promise<PriceInputs> {
  const { places, minimum } = plan;
  const offer = { plan, course: null, taxRateId, places, minimum, lastSession: now };
  return inputsOf(tx, offer, shared ?? (await getShared(tx, now)));
}

/** What the prices of all plans have in common: for whoever works out several. */
export type Shared = { studio: Studio; enrolmentOf: Awaited<ReturnType<typeof getEnrolments>> };

/** @param learntBefore nobody who booked after it counts as known */
export async function getShared(tx: Transaction, learntBefore: Date): Promise<Shared> {
  const studio = await getStudio(tx);
  return { studio, enrolmentOf: await getEnrolments(tx, learntBefore, studio) };
}

async function inputsOf(tx: Transaction, offer: Offer, { studio, enrolmentOf }: Shared): Promise<PriceInputs> {
  const { plan, course } = offer;
  const usages = await getUsagePerStudent(tx, plan, studio);
  const { lines, unpriced } = await materialCostLines(tx, usages);
  if (unpriced.length > 0)
    throw new Problem(
      'price-incomplete',
      `Nothing says yet what these cost: ${unpriced.join(', ')}. Enter a delivery of each, with its cost.`,
      { missing: unpriced },
    );
  const firings = await firingCostLines(
    tx,
    plan,
    { day: localDay(offer.lastSession, studio.timeZone), places: offer.places },
    studio,
  );
  const costs = [...lines, ...firings, ...courseLines(plan, studio)];
  const rest = taxTreatmentOf(studio, await getTaxRate(tx, offer.taxRateId));
  const parts = await getPlanTaxParts(tx, plan, studio);
  return {
    currency: studio.currency,
    ...{ places: offer.places, minimum: offer.minimum },
    enrolment: enrolmentOf(plan),
    ...soldOf(plan, course),
    vatPercent: vatPercentOf(rest),
    ...pricePartsOf(parts),
    cardPercent: studio.cardPercent,
    cardFixedMinor: studio.cardFixedMinor,
    ...paidIn(plan, course),
    lines: [...costs, ...unreclaimedVat({ parts, rest, course }, studio, costs, usages)],
    remakesPercent: studio.remakesPercent,
    ...hours(plan),
    wagePerHourMinor: studio.wagePerHourMinor,
    secondTutor: plan.secondTutor,
    ...surplusByHour(studio.surplusPerHourMinor, inHours(teachingMinutes(plan))),
    payFloorPerHourMinor: studio.payFloorPerHourMinor,
    poorAtMost: studio.poorAtMost,
    priceStepMinor: studio.priceStepMinor,
  };
}

/** As many as its smallest room has benches; unknown where a place doesn't take a bench in each session. */
async function mostPlaces(tx: Transaction, { places, sessions }: Course): Promise<number | undefined> {
  if (sessions.some(({ benches }) => benches !== places)) return undefined;
  const used = new Set(sessions.map(({ roomId }) => roomId));
  return Math.min(...(await listRooms(tx)).filter(({ id }) => used.has(id)).map(({ benches }) => benches));
}

/** A course that has begun isn't priced by what it turned out to be. */
function earlierOf(now: Date, begins = now.toISOString()): Date {
  return new Date(Math.min(now.getTime(), Date.parse(begins)));
}

const HOUR_DECIMALS = 6;
const inHours = (minutes: number) => new Decimal(minutes).div(60).toDecimalPlaces(HOUR_DECIMALS).toFixed();

const teachingMinutes = ({ sessions }: Plan): number => sessions.reduce((sum, { minutes }) => sum + minutes, 0);

function sessionMinutes({ sessions }: Plan): number {
  return sessions.reduce((sum, s) => sum + s.minutes + s.prepareMinutes + s.clearMinutes, 0);
}

/** All of the owner's time: in sessions, preparing and clearing them, and beside them. */
function hours(plan: Plan) {
  return {
    ownerHours: inHours(sessionMinutes(plan) + plan.otherMinutes),
    ownerHoursPerStudent: inHours(plan.minutesPerStudent),
  };
}

/** What the course costs however many come, and what is lost where too few do. */
function courseLines(plan: Plan, studio: Studio): CostLine[] {
  const fromPlan = (
    kind: 'advertising' | 'sunk',
    label: string,
    basis: CostLine['basis'],
    minor: number,
  ): CostLine => ({
    ...{ kind, key: kind },
    label,
    basis,
    quantity: '1',
    unit: 'course',
    rateMinor: String(minor),
    source: { kind: 'plan', detail: `The plan "${plan.name}".` },
  });
  const room: CostLine = {
    ...{ kind: 'room', key: 'room' },
    label: 'Room, heating and light',
    basis: 'per-course',
    quantity: inHours(sessionMinutes(plan)),
    unit: 'h',
    rateMinor: String(studio.overheadPerHourMinor),
    source: { kind: 'setting', detail: "The studio's overhead for an hour in use, preparing and clearing included." },
  };
  return [
    room,
    fromPlan('advertising', 'Advertising', 'per-course', plan.advertisingMinor),
    fromPlan('sunk', 'Lost if too few book', 'if-cancelled', plan.sunkIfCancelledMinor),
  ];
}
