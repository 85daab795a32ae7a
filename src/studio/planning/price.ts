import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar.js';
import { type CostLine, coursePrice, type PriceInputs, sensitivities, under } from '../../trade/course-price.js';
import { Decimal } from '../../trade/money.js';
import type { Course } from '../courses/contract.js';
import type { Plan } from '../courses/plan-contract.js';
import { course, plan } from '../courses/service.js';
import type { Studio } from '../settings/contract.js';
import { rooms, studio, taxRate, treatment } from '../settings/service.js';
import type { CoursePrice, PriceQuote } from './contract.js';
import { enrolments } from './enrolment.js';
import { firingLines } from './firings.js';
import { materialLines, usagePerStudent } from './materials.js';

/** The fair price of a course, from what the studio knows today: lots, meters, tariffs, settings, and assumptions said to be such. */
export async function priceOf(
  tx: Transaction,
  now: Date,
  courseId: string,
  atMostMinor?: number,
): Promise<CoursePrice> {
  const priced = await course(tx, courseId);
  const inputs = await priceInputs(tx, now, priced);
  const price = { courseId, title: priced.title, priceMinor: priced.priceMinor, inputs, ...reckoned(inputs) };
  return atMostMinor === undefined ? price : { ...price, cheaper: under(inputs, atMostMinor) };
}

/** Reckons the price and keeps it, with all that it came from. */
export async function quote(tx: Transaction, now: Date, courseId: string): Promise<PriceQuote> {
  const price = await priceOf(tx, now, courseId);
  const id = newId();
  await tx.priceQuote.create({ data: { id, courseId, inputs: price.inputs, result: price.result, computedAt: now } });
  return { ...price, id, computedAt: now.toISOString() };
}

function reckoned(inputs: PriceInputs): Pick<CoursePrice, 'result' | 'sensitivities'> {
  try {
    return { result: coursePrice(inputs), sensitivities: sensitivities(inputs) };
  } catch (error) {
    if (error instanceof RangeError) throw new Problem('price-incomplete', error.message); // such as a plan without hours
    throw error;
  }
}

async function priceInputs(tx: Transaction, now: Date, priced: Course): Promise<PriceInputs> {
  const home = await studio(tx);
  const recipe = await plan(tx, priced.planId);
  const { lines, unpriced } = await materialLines(tx, await usagePerStudent(tx, recipe, home));
  if (unpriced.length > 0)
    throw new Problem(
      'price-incomplete',
      `No lot says what these cost: ${unpriced.join(', ')}. Enter a delivery of each under /api/materials/{id}/lots.`,
      { missing: unpriced },
    );
  const enrolmentOf = await enrolments(tx, earlierOf(now, priced.sessions[0]?.startsAt), home);
  const lastSession = priced.sessions.at(-1)?.startsAt ?? '';
  const firings = await firingLines(tx, recipe, localDay(new Date(lastSession), home.timeZone), home);
  const tax = treatment(home, await taxRate(tx, priced.taxRateId));
  return {
    currency: home.currency,
    places: priced.places,
    minimum: priced.minimum,
    mostPlaces: await mostPlaces(tx, priced),
    enrolment: enrolmentOf(priced.planId),
    vatPercent: tax.kind === 'standard' ? tax.percent : '0',
    cardPercent: home.cardPercent,
    cardFixedMinor: home.cardFixedMinor,
    payments: recipe.payments,
    lines: [...lines, ...firings, ...courseLines(recipe, home)],
    remakesPercent: home.remakesPercent,
    ...hours(recipe),
    wagePerHourMinor: home.wagePerHourMinor,
    secondTutor: recipe.secondTutor,
    targetSurplusMinor: home.targetSurplusMinor,
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
