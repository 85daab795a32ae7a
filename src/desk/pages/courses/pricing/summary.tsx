import { Decimal } from '../../../../trade/money/money.js';
import { soldPrices } from '../../../../trade/pricing/takings.js';
import { students, type Words } from './labels';
import { leaves, targetSurplusInWords } from './outcome-labels';
import type { Calculation } from './recalculate';

type Props = { calculation: Calculation; instead: number | null; words: Words };
type Counted = Pick<Calculation['asked'], 'breakEvenStudents' | 'costsCoveredStudents'>;

/**
 * The answer in a sentence: what to ask, how many it takes, what decides, and what the price of today means. `instead` is today's own
 * fair price where these are figures that somebody tries, so that nobody takes them for today's.
 */
export function PriceSummary({ calculation, instead, words: { moneyInText: money, percent } }: Props) {
  const { inputs, result, asked, askedMinor } = calculation;
  const fair = result.fairPriceMinor;
  return (
    <>
      {instead !== null && (
        <p class="tried-out amber">
          These are the figures that you are trying. With today’s, the fair price is <b>{money(instead)}</b>.
        </p>
      )}
      <p class="answer" aria-live="polite">
        Ask <b>{money(fair)}</b> {inputs.minimum === 0 ? 'a bench, per visit' : 'a place'}.{' '}
        {breakEven(result, inputs.wagePerHourMinor, money)} What decides is{' '}
        {result.binding === 'surplus'
          ? targetSurplusInWords(inputs, money)
          : `the risk of being paid less than ${money(inputs.payFloorPerHourMinor)} an hour`}
        . <Today calculation={calculation} words={{ money, percent }} />
      </p>
      {askedMinor !== fair && (
        <p>
          At {money(askedMinor)} {leaves(asked.expectedResultMinor, asked.expectedBeforeWageMinor, money)} on average.{' '}
          {breakEven(asked, inputs.wagePerHourMinor, money)}
        </p>
      )}
      <SoldAt calculation={calculation} words={{ money }} />
      <p>
        Over {inputs.minimum === 0 ? 'all visits, the empty ones too' : 'the courses that run'}, your hour then brings{' '}
        <b>{money(asked.payPerHour.meanMinor)}</b> on average; with 1 chance in 10 it is{' '}
        {money(asked.payPerHour.lowMinor)} or less, and with 1 chance in 10 more than{' '}
        {money(asked.payPerHour.highMinor)}.
      </p>
    </>
  );
}

/** "It breaks even at 5 students, your £22.00 an hour paid; three students cover the costs." */
function breakEven(
  { breakEvenStudents: all, costsCoveredStudents: costs }: Counted,
  wage: number,
  money: Words['money'],
) {
  if (costs === null) return 'No number of students covers its costs.';
  const alone = `${students(costs).toLowerCase()} ${costs === 1 ? 'covers' : 'cover'} the costs`;
  const paid = `your ${money(wage)} an hour`;
  if (all === null) return `No number of students pays ${paid}; ${alone}.`;
  const even = `It breaks even at ${students(all).toLowerCase()}, ${paid} paid`;
  return all === costs ? `${even}.` : `${even}; ${alone}.`;
}

/** What the other prices come to, where not everybody pays the full one. */
function SoldAt({ calculation: { inputs, askedMinor }, words: { money } }: SoldAtProps) {
  const [, ...others] = soldPrices(inputs, askedMinor);
  if (others.length === 0) return null;
  return (
    <p>
      That is the full price.{' '}
      {others
        .map(({ label, priceMinor }) => `${label} is ${money(priceMinor)} where the full one is ${money(askedMinor)}.`)
        .join(' ')}
    </p>
  );
}
type SoldAtProps = { calculation: Calculation; words: Pick<Words, 'money'> };

type TodayProps = { calculation: Calculation; words: Pick<Words, 'money' | 'percent'> };

function Today({ calculation: { inputs, result, sold, soldMinor }, words: { money, percent } }: TodayProps) {
  const today = `Sold today at ${money(soldMinor)}`;
  const onAverage = leaves(sold.expectedResultMinor, sold.expectedBeforeWageMinor, money);
  const left = new Decimal(sold.expectedResultMinor);
  if (soldMinor === result.fairPriceMinor) return <span class="celadon">That is what it is sold at.</span>;
  if (left.lt(0)) return <b class="iron">{`${today} ${onAverage} on average.`}</b>;
  if (left.lt(inputs.targetSurplusMinor))
    return (
      <span class="amber">
        {today} it leaves only {money(sold.expectedResultMinor)} on average.
      </span>
    );
  if (new Decimal(sold.probabilityUnderPayFloor).gt(inputs.poorAtMost))
    return (
      <span class="amber">
        {today}, that happens {percent(sold.probabilityUnderPayFloor)} of the time; you accept{' '}
        {percent(inputs.poorAtMost)}.
      </span>
    );
  return (
    <span class="celadon">
      {today} it leaves {money(sold.expectedResultMinor)} on average, which is enough.
    </span>
  );
}
