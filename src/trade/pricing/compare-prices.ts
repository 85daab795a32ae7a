import { Decimal } from '../money/money.js';
import { fairPrice } from './fair-price.js';
import type { CostLine, PriceInputs } from './price-inputs.js';
import { asText, readTerms, rememberedEnrolment, settled } from './price-terms.js';
import { type PrivateInputs, privatePrice } from './private-price.js';

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

export interface PriceComparison {
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
export function comparePrices(first: PriceInputs, second: PriceInputs): PriceComparison {
  const enrolment = rememberedEnrolment();
  return compareBy(first, second, (inputs) => {
    const { surplusMinor, riskMinor, fairMinor } = fairPrice(readTerms(inputs, enrolment));
    return { exact: settled(Decimal.max(surplusMinor, riskMinor)), fairMinor };
  });
}

/** The same of the price for the group of a private session. */
export function comparePrivatePrices(first: PrivateInputs, second: PrivateInputs): PriceComparison {
  return compareBy(first, second, (inputs) => {
    const { surplusPriceMinor, fairPriceMinor } = privatePrice(inputs);
    return { exact: settled(new Decimal(surplusPriceMinor)), fairMinor: new Decimal(fairPriceMinor) };
  });
}

/** What either kind of price depends on. */
type Known = PriceInputs | PrivateInputs;
type Priced = { exact: Decimal; fairMinor: Decimal };

function compareBy<Inputs extends Known>(first: Inputs, second: Inputs, priced: (inputs: Inputs) => Priced) {
  if (first.currency !== second.currency) throw new RangeError('Compare prices in one currency.');
  const [a, b] = [priced(first), priced(second)];
  const changes = changesBetween(first, second);
  const walked = (order: readonly Change<Inputs>[]) => {
    let inputs = first;
    let before = a.exact;
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

type Change<Inputs> = { key: string; line: ComparedRow['line']; apply(inputs: Inputs): Inputs };
type Field = keyof PriceInputs | keyof PrivateInputs;

/** Where a figure comes from is no figure; it goes with the one that it explains. */
const WITH: Partial<Record<Field, Field>> = { targetSurplusMinor: 'surplusPerHour' };

const FIELDS: Record<Exclude<Factor, 'rounding'>, readonly Field[]> = {
  hours: ['ownerHours', 'ownerHoursPerStudent'],
  wage: ['wagePerHourMinor'],
  tutor: ['secondTutor'],
  offer: ['places', 'minimum', 'enrolment', 'groupOf'], // a minimum is within its places only together with them
  paid: ['vatPercent', 'parts', 'sold', 'cardPercent', 'cardFixedMinor', 'payments'],
  wishes: ['targetSurplusMinor', 'payFloorPerHourMinor', 'poorAtMost'],
};

function changesBetween<Inputs extends Known>(first: Inputs, second: Inputs): Change<Inputs>[] {
  const [from, to]: Partial<Record<Field, unknown>>[] = [first, second];
  const same = (fields: readonly Field[]) => fields.every((field) => figure(from?.[field]) === figure(to?.[field]));
  const factors = Object.entries(FIELDS)
    .filter(([, fields]) => !same(fields))
    .map(([key, fields]) => ({
      ...{ key, line: null },
      apply: (inputs: Inputs) => {
        const moved = fields.flatMap((of) => [of, WITH[of] ?? of]);
        return { ...inputs, ...Object.fromEntries(moved.map((of) => [of, to?.[of]])) };
      },
    }));
  return [...linesBetween<Inputs>(first.lines, second.lines), ...factors];
}

/**
 * What of an input counts. A source is not a figure: that an expectation has other words does not make a price differ. Nor does the
 * order of an object's keys, which the database changes in what it keeps as JSON.
 */
const figure = (value: unknown): string | undefined =>
  JSON.stringify(value, (key, part) => {
    if (key === 'source') return null;
    if (typeof part !== 'object' || part === null || Array.isArray(part)) return part;
    return Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)));
  });

function linesBetween<Inputs extends Known>(first: readonly CostLine[], second: readonly CostLine[]): Change<Inputs>[] {
  const keys = [...new Set([...first, ...second].map(({ key }) => key))];
  return keys.flatMap((key) => {
    const [a, b] = [first, second].map((lines) => lines.find((line) => line.key === key)) as (CostLine | undefined)[];
    const line = { label: (b ?? a)?.label ?? key, first: amountOf(a), second: amountOf(b) };
    if (line.first === line.second && a?.basis === b?.basis) return [];
    const apply = (inputs: Inputs) => ({
      ...inputs,
      lines: [...inputs.lines.filter((other) => other.key !== key), ...(b ? [b] : [])],
    });
    return [{ key, line, apply }];
  });
}

const amountOf = (line: CostLine | undefined) =>
  line === undefined ? null : asText(new Decimal(line.quantity).times(line.rateMinor));
