import { Decimal } from './money.js';
import { fairPrice } from './price-conditions.js';
import type { CostLine, PriceInputs } from './price-inputs.js';
import { asText, readTerms, rememberedEnrolment, settled } from './price-terms.js';

export const FACTORS = ['hours', 'wage', 'tutor', 'offer', 'paid', 'wishes', 'rounding'] as const;
export type Factor = (typeof FACTORS)[number];

/** One thing in which two prices differ. */
export interface ComparedRow {
  /** a cost line's key, or a factor */
  key: string;
  /** the cost line as each has it, with its exact amount; null where one has none */
  line: { label: string; first: string | null; second: string | null } | null;
  /** how much of the difference of the fair prices it makes, second less first; exact, in minor units */
  effectMinor: string;
}

export interface Comparison {
  /** fair prices, whole minor units */
  firstMinor: number;
  secondMinor: number;
  /** what differs, the greatest effect first; their effects add up to second less first, exactly */
  rows: ComparedRow[];
}

/**
 * What makes one course dearer than another. A fair price is no sum of its parts (the same hours weigh more where fewer book), so the
 * first course is turned into the second one thing at a time, and each thing is what that step made of the price; once in the order
 * of the factors and once in the opposite one, and the mean of the two. Each walk ends at the second price, so that the effects add up
 * to the difference exactly. (The mean over all orders would be the Shapley value; two opposite ones are as exact, and quick.)
 *
 * @throws RangeError with a sentence that says what to mend
 */
export function comparePrices(first: PriceInputs, second: PriceInputs): Comparison {
  if (first.currency !== second.currency) throw new RangeError('Compare prices in one currency.');
  const enrolment = rememberedEnrolment();
  const priced = (inputs: PriceInputs) => {
    const { surplusMinor, riskMinor, fairMinor } = fairPrice(readTerms(inputs, enrolment));
    return { exact: settled(Decimal.max(surplusMinor, riskMinor)), fairMinor };
  };
  const [a, b] = [priced(first), priced(second)];
  const changes = changesBetween(first, second);
  const walked = (order: readonly Change[]) => {
    let [inputs, before] = [first, a.exact];
    return new Map(
      order.map((change) => {
        inputs = change.apply(inputs);
        const after = priced(inputs).exact;
        const step = after.minus(before);
        before = after;
        return [change.key, step];
      }),
    );
  };
  const [there, back] = [walked(changes), walked(changes.toReversed())];
  const rounding = b.fairMinor.minus(b.exact).minus(a.fairMinor.minus(a.exact));
  const rows = changes.map(({ key, line }) => ({
    ...{ key, line, effect: (there.get(key) ?? rounding).plus(back.get(key) ?? rounding).div(2) },
  }));
  if (!rounding.isZero()) rows.push({ key: 'rounding', line: null, effect: rounding });
  return {
    ...{ firstMinor: a.fairMinor.toNumber(), secondMinor: b.fairMinor.toNumber() },
    rows: rows
      .sort((x, y) => y.effect.abs().comparedTo(x.effect.abs()))
      .map(({ effect, ...row }) => ({ ...row, effectMinor: asText(effect) })),
  };
}

type Change = { key: string; line: ComparedRow['line']; apply(inputs: PriceInputs): PriceInputs };

const FIELDS: Record<Exclude<Factor, 'rounding'>, readonly (keyof PriceInputs)[]> = {
  hours: ['ownerHours', 'ownerHoursPerStudent'],
  wage: ['wagePerHourMinor'],
  tutor: ['secondTutor'],
  offer: ['places', 'minimum', 'enrolment'], // a minimum is within its places only together with them
  paid: ['vatPercent', 'parts', 'sold', 'cardPercent', 'cardFixedMinor', 'payments'],
  wishes: ['targetSurplusMinor', 'payFloorPerHourMinor', 'poorAtMost'],
};

function changesBetween(first: PriceInputs, second: PriceInputs): Change[] {
  const same = (fields: readonly (keyof PriceInputs)[]) =>
    fields.every((field) => JSON.stringify(valued(first[field])) === JSON.stringify(valued(second[field])));
  const factors = Object.entries(FIELDS)
    .filter(([, fields]) => !same(fields))
    .map(([key, fields]) => ({
      ...{ key, line: null },
      apply: (inputs: PriceInputs) => ({ ...inputs, ...Object.fromEntries(fields.map((of) => [of, second[of]])) }),
    }));
  return [...linesBetween(first.lines, second.lines), ...factors];
}

/** A source is no figure: that an expectation has other words does not make a price differ. */
const valued = (value: unknown) =>
  typeof value === 'object' && value !== null && 'source' in value ? { ...value, source: null } : value;

function linesBetween(first: readonly CostLine[], second: readonly CostLine[]): Change[] {
  const keys = [...new Set([...first, ...second].map(({ key }) => key))];
  return keys.flatMap((key) => {
    const [a, b] = [first, second].map((lines) => lines.find((line) => line.key === key)) as (CostLine | undefined)[];
    const line = { label: (b ?? a)?.label ?? key, first: amountOf(a), second: amountOf(b) };
    if (line.first === line.second && a?.basis === b?.basis) return [];
    const apply = (inputs: PriceInputs) => ({
      ...inputs,
      lines: [...inputs.lines.filter((other) => other.key !== key), ...(b ? [b] : [])],
    });
    return [{ key, line, apply }];
  });
}

const amountOf = (line: CostLine | undefined) =>
  line === undefined ? null : asText(new Decimal(line.quantity).times(line.rateMinor));
