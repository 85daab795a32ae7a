import { wholeIn } from '../maths/number.js';
import { amountMinor, type Decimal } from '../money/money.js';
import { MAX_MINOR, parseMinor } from '../money/money-limits.js';
import { lineTotal, readLines } from './cost-lines.js';
import { MOST_PLACES } from './enrolment.js';
import type { CostLine, PriceInputs } from './price-inputs.js';
import { asText, readWork, settled } from './price-terms.js';
import { readTakings } from './takings.js';

/** All that the price of a private session depends on; as PriceInputs, without how many may book. */
export interface PrivateInputs
  extends Omit<
    PriceInputs,
    'minimum' | 'enrolment' | 'mostPlaces' | 'sold' | 'payFloorPerHourMinor' | 'poorAtMost' | 'remakesPercent'
  > {
  /** so many heads are in the group's price; 1..places */
  groupOf: number;
}

/** A group of so many heads. Money: exact decimal strings in minor units, but what it is charged. */
export interface PrivateProfitRow {
  heads: number;
  /** for all of them, gross, whole minor units */
  chargedMinor: number;
  /** what this group would have to pay in all so that every cost and the owner's wage are covered */
  floorMinor: string;
  resultMinor: string;
  ownerPayPerHourMinor: string;
  /** all costs with the owner's wage and the card company's part, without VAT, by the heads */
  costPerHeadMinor: string;
}

export interface PrivateResult {
  lines: (CostLine & { amountMinor: string })[];
  /** of the lines, for each head, and however many come */
  perHeadMinor: string;
  fixedMinor: string;
  /** the gross price for the group at which all costs are covered with as many heads as are in it, the owner's time unpaid; exact */
  costFloorMinor: string;
  /** the same with the owner's wage */
  floorMinor: string;
  /** the same with the surplus aimed at; exact */
  surplusPriceMinor: string;
  /** that, rounded up to the step: whole minor units */
  fairPriceMinor: number;
  /** what one more head costs, the owner's time for it included, as a gross sum; exact */
  oneMoreMinor: string;
  /** what to ask for each head above the group, rounded up to the step: no larger group then leaves less than the surplus */
  perHeadAboveMinor: number;
  /** a larger group that a second tutor makes the dearest for each head above; null where one more head alone decides */
  dearestHeads: number | null;
  /** at those two prices, for 1 to places heads */
  ladder: PrivateProfitRow[];
}

/**
 * The price of a private session: G for a group of up to k heads, and A for each head above it, all paid by one person. With h heads
 * it leaves
 *
 *     R(h) = (G + A max(0, h - k)) (100 / (100 + vat) - card%) - payments cardFixed - C(h)
 *     C(h) = fixed + h perHead + [h > above] secondTutor + wage (hours + h hoursPerHead)
 *
 * C never falls as h grows, so that a G which covers C(k) covers every smaller group, and both prices have a closed form:
 *
 *     G = (C(k) + payments cardFixed + surplus) / kept        A = max over h > k of (C(h) - C(k)) / ((h - k) kept)
 *
 * The quotient in A is what one head costs, but for a second tutor, whose fee weighs most on the first head that needs them. Common
 * practice in the trade is a price for the group and a sum per head above it; the algebra is our own.
 *
 * @throws RangeError with a sentence that says what to mend
 */
export function privatePrice(inputs: PrivateInputs): PrivateResult {
  const terms = readPrivate(inputs);
  const { kept, cardFixedMinor, costAt, groupOf, places, stepMinor, lines } = terms;
  const base = costAt(groupOf).plus(cardFixedMinor);
  const oneMore = terms.perHeadMinor.plus(terms.hoursEach.times(terms.wageMinor)).div(kept);
  let [above, dearestHeads] = [settled(oneMore), null as number | null];
  for (let heads = groupOf + 1; heads <= places; heads++) {
    const each = settled(
      costAt(heads)
        .minus(costAt(groupOf))
        .div(kept.times(heads - groupOf)),
    );
    if (each.gt(above)) [above, dearestHeads] = [each, heads];
  }
  const steps = (exact: Decimal) => settled(exact).div(stepMinor).ceil().times(stepMinor);
  const wanted = base.plus(inputs.targetSurplusMinor).div(kept);
  const fair = steps(wanted);
  if (fair.gt(MAX_MINOR)) throw new RangeError('No sensible price would pay for this session. Check its costs.');
  const prices = { groupMinor: fair.toNumber(), perHeadAboveMinor: steps(above).toNumber() };
  return {
    lines: lines.map(({ line, amountMinor }) => ({ ...line, amountMinor: asText(amountMinor) })),
    perHeadMinor: asText(terms.perHeadMinor),
    fixedMinor: asText(terms.fixedMinor),
    costFloorMinor: asText(terms.spentAt(groupOf).plus(cardFixedMinor).div(kept)),
    floorMinor: asText(base.div(kept)),
    surplusPriceMinor: asText(wanted),
    fairPriceMinor: prices.groupMinor,
    oneMoreMinor: asText(oneMore),
    perHeadAboveMinor: prices.perHeadAboveMinor,
    dearestHeads,
    ladder: rungs(terms, prices),
  };
}

/** Whole minor units, gross. */
export interface PrivatePrices {
  groupMinor: number;
  perHeadAboveMinor: number;
}

/** The same ladder at any two prices, for "what if". */
export function privateProfitTableAt(inputs: PrivateInputs, { groupMinor, perHeadAboveMinor }: PrivatePrices) {
  parseMinor(groupMinor, 'The price for the group');
  parseMinor(perHeadAboveMinor, 'The price for each extra person');
  return rungs(readPrivate(inputs), { groupMinor, perHeadAboveMinor });
}

type Terms = ReturnType<typeof readPrivate>;

function readPrivate(inputs: PrivateInputs) {
  const places = wholeIn(inputs.places, 'Places', 1, MOST_PLACES);
  const groupOf = wholeIn(inputs.groupOf, "The people in the group's price", 1, places);
  if (inputs.parts?.some(({ amountMinor }) => amountMinor !== undefined))
    throw new RangeError('A part of every place has no meaning in the price for a group. Give its share instead.');
  const { keptPart: kept, cardPart, cardFixedMinor } = readTakings({ ...inputs, sold: undefined });
  const wageMinor = parseMinor(inputs.wagePerHourMinor, "The owner's wage per hour");
  parseMinor(inputs.targetSurplusMinor, 'The surplus aimed at');
  const stepMinor = wholeIn(inputs.priceStepMinor, 'The price step, in minor units,', 1, MAX_MINOR);
  const lines = readLines(inputs.lines).filter(({ line }) => line.basis !== 'if-cancelled');
  const [perHeadMinor, fixedMinor] = [lineTotal(lines, 'per-student'), lineTotal(lines, 'per-course')];
  const { hours, hoursEach, feeMinor, above } = readWork(inputs);
  const hoursAt = (heads: number) => hoursEach.times(heads).plus(hours);
  /** without the owner's wage, and with it */
  const spentAt = (heads: number) =>
    perHeadMinor
      .times(heads)
      .plus(fixedMinor)
      .plus(heads > above ? feeMinor : 0);
  const costAt = (heads: number) => spentAt(heads).plus(hoursAt(heads).times(wageMinor));
  return {
    ...{ places, groupOf, lines, perHeadMinor, fixedMinor, hoursEach, hoursAt, spentAt, costAt },
    ...{ kept, cardPart, cardFixedMinor, wageMinor, stepMinor },
  };
}

function rungs(terms: Terms, { groupMinor, perHeadAboveMinor }: PrivatePrices): PrivateProfitRow[] {
  const { kept, cardPart, cardFixedMinor } = terms;
  return Array.from({ length: terms.places }, (_, i) => {
    const heads = i + 1;
    const chargedMinor = groupMinor + amountMinor(Math.max(0, heads - terms.groupOf), String(perHeadAboveMinor));
    const costMinor = terms.costAt(heads).plus(cardFixedMinor);
    const taken = kept.times(chargedMinor);
    const spent = terms.spentAt(heads).plus(cardFixedMinor);
    return {
      ...{ heads, chargedMinor, floorMinor: asText(costMinor.div(kept)) },
      resultMinor: asText(settled(taken.minus(costMinor))),
      ownerPayPerHourMinor: asText(taken.minus(spent).div(terms.hoursAt(heads))),
      costPerHeadMinor: asText(costMinor.plus(cardPart.times(chargedMinor)).div(heads)),
    };
  });
}
