import { Decimal } from '../../trade/money.js';
import { soldPrices } from '../../trade/price-takings.js';
import type { Reckoning } from './reckoning';
import { students, type Words } from './words';

type Props = { reckoning: Reckoning; words: Words };

/** The answer in a sentence: what to ask, who carries it, what decides, and what the price of today means. */
export function Answer({ reckoning, words: { money, percent } }: Props) {
  const { inputs, result, asked, askedMinor } = reckoning;
  const fair = result.fairPriceMinor;
  const carry = result.breakEvenStudents;
  return (
    <>
      <p class="answer" aria-live="polite">
        Ask <b>{money(fair)}</b> {inputs.minimum === 0 ? 'a bench and visit' : 'a place'}.{' '}
        {carry === null ? 'No number of students carries' : `${students(carry)} ${carry === 1 ? 'carries' : 'carry'}`}{' '}
        it;{' '}
        {result.binding === 'surplus'
          ? `the ${money(inputs.targetSurplusMinor)} that you want left over`
          : `the risk of being paid less than ${money(inputs.payFloorPerHourMinor)} an hour`}{' '}
        decides. <Today reckoning={reckoning} words={{ money, percent }} />
      </p>
      {askedMinor !== fair && (
        <p>
          At {money(askedMinor)} {leaves(asked.expectedResultMinor, money)} on average
          {asked.breakEvenStudents === null
            ? ', and no number of students carries it.'
            : `; ${students(asked.breakEvenStudents).toLowerCase()} or more lose nothing.`}
        </p>
      )}
      <SoldAt reckoning={reckoning} words={{ money }} />
      <p>
        Over {inputs.minimum === 0 ? 'all visits, the empty ones too' : 'the courses that are held'}, your hour then
        brings <b>{money(asked.payPerHour.meanMinor)}</b> on average; {money(asked.payPerHour.lowMinor)} or less one
        time in ten, {money(asked.payPerHour.highMinor)} or less nine times in ten.
      </p>
    </>
  );
}

/** What the other prices come to, where not everybody pays the full one. */
function SoldAt({ reckoning: { inputs, askedMinor }, words: { money } }: SoldAtProps) {
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
type SoldAtProps = { reckoning: Reckoning; words: Pick<Words, 'money'> };

type TodayProps = { reckoning: Reckoning; words: Pick<Words, 'money' | 'percent'> };

function Today({ reckoning: { inputs, result, sold, soldMinor }, words: { money, percent } }: TodayProps) {
  const today = `Sold today at ${money(soldMinor)}`;
  const left = new Decimal(sold.expectedResultMinor);
  if (soldMinor === result.fairPriceMinor) return <span class="celadon">That is what it is sold at.</span>;
  if (left.lt(0)) return <b class="iron">{`${today} ${leaves(sold.expectedResultMinor, money)} on average.`}</b>;
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

/** "it leaves £40.00" or "it loses £12.00". */
export const leaves = (exactMinor: string, money: Words['money']) => {
  const amount = new Decimal(exactMinor);
  return amount.lt(0) ? `it loses ${money(amount.abs().toFixed())}` : `it leaves ${money(exactMinor)}`;
};
