import type { Transaction } from '../../database/transaction.js';
import { digest } from '../../http/digest.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { remember } from '../../trade/maths/remember.js';
import { cheapestChanges, coursePrice, type PriceInputs, sensitivities } from '../../trade/pricing/course-price.js';
import { type PrivateInputs, privatePrice } from '../../trade/pricing/private-price.js';
import type { Course } from '../courses/contract.js';
import { getCourseToday, getPlan } from '../courses/service.js';
import { type ChangesSince, getChangesSince } from './changes-since-quote.js';
import type { PlanPrice, Price, PriceQuote, PrivatePrice } from './contract.js';
import { getLastTaxRateId } from './default-tax-rate.js';
import { getCourseInputs, getPlanInputs } from './price-inputs.js';
import { addQuote } from './quotes.js';

/** The fair price of a course, from what the studio knows today: lots, meters, tariffs, settings, and assumptions said to be such. */
export async function getPrice(tx: Transaction, now: Date, courseId: string, atMostMinor?: number): Promise<Price> {
  const priced = await getCourseToday(tx, now, courseId);
  const inputs = await getCourseInputs(tx, now, priced);
  if (priced.kind === 'private') {
    const price = privateOf(priced, inputs);
    return { ...price, ...(await getChangesSince(tx, courseId, price.inputs)) };
  }
  const { kind, title, priceMinor } = priced;
  const price = {
    ...{ kind, courseId, title, priceMinor, inputs, ...reckoned(inputs) },
    ...(await getChangesSince(tx, courseId, inputs)),
  };
  return atMostMinor === undefined ? price : { ...price, cheaper: cheapestChanges(inputs, atMostMinor) };
}

/**
 * The price of a plan that has no dates, as if it were held today, at the tax rate of its latest course or else of any.
 *
 * @throws Problem price-incomplete where something that the price needs is missing
 */
export async function getPlanPrice(tx: Transaction, now: Date, planId: string, named?: string): Promise<PlanPrice> {
  const plan = await getPlan(tx, planId);
  const { kind, name: title } = plan;
  if (kind === 'private')
    throw new Problem('price-incomplete', 'A private session is priced once it has a date: look at its own price.');
  const taxRateId = named ?? (await getLastTaxRateId(tx, planId));
  const inputs = await getPlanInputs(tx, now, plan, taxRateId);
  return { kind, planId, title, taxRateId, inputs, ...reckoned(inputs) };
}

/** Reckons the price and keeps it, with all that it came from. */
export async function saveQuote(tx: Transaction, now: Date, courseId: string): Promise<PriceQuote> {
  const { since: _, sinceUnknown, ...price } = await getPrice(tx, now, courseId);
  const id = newId();
  await addQuote(tx, { id, courseId, inputs: price.inputs, result: price.result, computedAt: now });
  return { ...price, id, computedAt: now.toISOString() };
}

/** What the price of a private session depends on: not on how many may book, since one group does or nobody. */
export function privateInputs({ groupOf }: Pick<Course, 'groupOf'>, known: PriceInputs): PrivateInputs {
  const { minimum: _, enrolment, mostPlaces, sold, payFloorPerHourMinor, poorAtMost, remakesPercent, ...rest } = known;
  return { ...rest, groupOf: groupOf ?? 1 };
}

function privateOf(priced: Course, known: PriceInputs): Omit<PrivatePrice, keyof ChangesSince> {
  const inputs = privateInputs(priced, known);
  const { id: courseId, title, priceMinor, perHeadAboveMinor } = priced;
  const result = refusing(() => privatePrice(inputs));
  const sold = { priceMinor, perHeadAboveMinor: perHeadAboveMinor ?? 0 };
  return { kind: 'private', courseId, title, ...sold, inputs, result };
}

/** The same inputs give the same price, and the pages of plans and prices ask for it again and again. */
const pricesKnown = remember<ReturnType<typeof coursePrice>>(40);
const sensitivitiesKnown = remember<ReturnType<typeof sensitivities>>(20);

const resultOf = (inputs: PriceInputs) => refusing(() => pricesKnown(digest(inputs), () => coursePrice(inputs)));

const reckoned = (inputs: PriceInputs) => ({
  result: resultOf(inputs),
  sensitivities: refusing(() => sensitivitiesKnown(digest(inputs), () => sensitivities(inputs))),
});

/** Of a price nothing but what to ask. */
export const fairPriceOf = (inputs: PriceInputs): number => resultOf(inputs).fairPriceMinor;

/** What the trade can't reckon, such as a plan without hours, is a refusal that says what to mend. */
function refusing<T>(reckon: () => T): T {
  try {
    return reckon();
  } catch (error) {
    if (error instanceof RangeError) throw new Problem('price-incomplete', error.message);
    throw error;
  }
}
