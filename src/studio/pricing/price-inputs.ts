import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { Decimal } from '../../trade/money/money.js';
import type { CostLine, PriceInputs } from '../../trade/pricing/course-price.js';
import { surplusByHour } from '../../trade/pricing/input-changes.js';
import type { Course } from '../courses/contract.js';
import type { Plan } from '../courses/plan-contract.js';
import { plan } from '../courses/service.js';
import type { Studio } from '../settings/contract.js';
import { rooms, studio, taxRate, treatment } from '../settings/service.js';
import { enrolments } from './enrolment.js';
import { firingLines } from './firings.js';
import { unreclaimedVat } from './input-vat.js';
import { materialLines, usagePerStudent } from './materials.js';
import { paidIn, partsOf, soldOf, taxedParts, vatPercentOf } from './price-terms.js';

/** What is priced: a plan, on the terms of one of its courses or before it has any. */
type Offer = {
  recipe: Plan;
  course: Course | null;
  taxRateId: string;
  places: number;
  minimum: number;
  /** nobody who booked after it counts as known */
  learntBefore: Date;
  /** whose tariff holds */
  lastSession: Date;
};

/** Of a course, as it is offered. */
export async function inputsOfCourse(tx: Transaction, now: Date, course: Course): Promise<PriceInputs> {
  const { taxRateId, places, minimum, sessions } = course;
  const recipe = await plan(tx, course.planId);
  const learntBefore = earlierOf(now, sessions[0]?.startsAt);
  const lastSession = new Date(sessions.at(-1)?.startsAt ?? now);
  const inputs = await inputsOf(tx, { recipe, course, taxRateId, places, minimum, learntBefore, lastSession });
  return { ...inputs, mostPlaces: await mostPlaces(tx, course) };
}

/** Of a plan, as if it were held today. */
export function inputsOfPlan(tx: Transaction, now: Date, recipe: Plan, taxRateId: string): Promise<PriceInputs> {
  const { places, minimum } = recipe;
  return inputsOf(tx, { recipe, course: null, taxRateId, places, minimum, learntBefore: now, lastSession: now });
}

async function inputsOf(tx: Transaction, offer: Offer): Promise<PriceInputs> {
  const { recipe, course } = offer;
  const home = await studio(tx);
  const usages = await usagePerStudent(tx, recipe, home);
  const { lines, unpriced } = await materialLines(tx, usages);
  if (unpriced.length > 0)
    throw new Problem(
      'price-incomplete',
      `Nothing says yet what these cost: ${unpriced.join(', ')}. Enter a delivery of each, with its cost.`,
      { missing: unpriced },
    );
  const enrolmentOf = await enrolments(tx, offer.learntBefore, home);
  const firings = await firingLines(
    tx,
    recipe,
    { day: localDay(offer.lastSession, home.timeZone), places: offer.places },
    home,
  );
  const costs = [...lines, ...firings, ...courseLines(recipe, home)];
  const rest = treatment(home, await taxRate(tx, offer.taxRateId));
  const parts = await taxedParts(tx, recipe, home);
  return {
    currency: home.currency,
    ...{ places: offer.places, minimum: offer.minimum },
    enrolment: enrolmentOf(recipe.id),
    ...soldOf(recipe, course),
    vatPercent: vatPercentOf(rest),
    ...partsOf(parts),
    cardPercent: home.cardPercent,
    cardFixedMinor: home.cardFixedMinor,
    ...paidIn(recipe, course),
    lines: [...costs, ...unreclaimedVat({ parts, rest, course }, home, costs, usages)],
    remakesPercent: home.remakesPercent,
    ...hours(recipe),
    wagePerHourMinor: home.wagePerHourMinor,
    secondTutor: recipe.secondTutor,
    ...surplusByHour(home.surplusPerHourMinor, inHours(teachingMinutes(recipe))),
    payFloorPerHourMinor: home.payFloorPerHourMinor,
    poorAtMost: home.poorAtMost,
    priceStepMinor: home.priceStepMinor,
  };
}

/** As many as its smallest room has benches; unknown where a place doesn't take a bench in each session. */
async function mostPlaces(tx: Transaction, { places, sessions }: Course): Promise<number | undefined> {
  if (sessions.some(({ benches }) => benches !== places)) return undefined;
  const used = new Set(sessions.map(({ roomId }) => roomId));
  return Math.min(...(await rooms(tx)).filter(({ id }) => used.has(id)).map(({ benches }) => benches));
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
function hours(recipe: Plan) {
  return {
    ownerHours: inHours(sessionMinutes(recipe) + recipe.otherMinutes),
    ownerHoursPerStudent: inHours(recipe.minutesPerStudent),
  };
}

/** What the course costs however many come, and what is lost where too few do. */
function courseLines(recipe: Plan, home: Studio): CostLine[] {
  const fromPlan = (key: string, label: string, basis: CostLine['basis'], minor: number): CostLine => ({
    key,
    label,
    basis,
    quantity: '1',
    unit: 'course',
    rateMinor: String(minor),
    source: { kind: 'plan', detail: `The plan "${recipe.name}".` },
  });
  const room: CostLine = {
    key: 'room',
    label: 'Room, heating and light',
    basis: 'per-course',
    quantity: inHours(sessionMinutes(recipe)),
    unit: 'h',
    rateMinor: String(home.overheadPerHourMinor),
    source: { kind: 'setting', detail: "The studio's overhead for an hour in use, preparing and clearing included." },
  };
  return [
    room,
    fromPlan('advertising', 'Advertising', 'per-course', recipe.advertisingMinor),
    fromPlan('sunk', 'Lost if too few book', 'if-cancelled', recipe.sunkIfCancelledMinor),
  ];
}
