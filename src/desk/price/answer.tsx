import type { Schemas } from '../client';
import type { Reckoning } from './reckoning';
import type { moneyIn } from './words';
import { numberWord } from './words';

type Props = { price: Schemas['CoursePrice']; reckoning: Reckoning; money: ReturnType<typeof moneyIn> };

/** The answer in a sentence: what to ask, who carries it, what decides, and how that stands to the price of today. */
export function Answer({ price, reckoning: { result, asked, askedMinor }, money }: Props) {
  const fair = result.fairPriceMinor;
  const students = result.breakEvenStudents;
  return (
    <>
      <p class="answer" aria-live="polite">
        Ask <b>{money(fair)}</b> a place.{' '}
        {students === null
          ? 'No number of students carries'
          : `${numberWord(students)} ${students === 1 ? 'student carries' : 'students carry'}`}{' '}
        it; {result.binding === 'surplus' ? 'the surplus you want' : 'the risk of a poorly paid course'} decides.{' '}
        <Today sold={price.priceMinor} fair={fair} floor={result.floorMinor} money={money} />
      </p>
      {askedMinor !== fair && (
        <p>
          At {money(askedMinor)} it leaves {money(asked.expectedResultMinor)} on average beyond your wage
          {asked.breakEvenStudents === null
            ? ', and no number of students carries it.'
            : `; from ${asked.breakEvenStudents} students on nothing is lost.`}
        </p>
      )}
    </>
  );
}

function Today({ sold, fair, floor, money }: { sold: number; fair: number; floor: string; money: Props['money'] }) {
  if (sold === fair) return <span class="celadon">That is what it is sold at.</span>;
  if (sold < Number(floor)) return <b class="iron">Sold at {money(sold)} it loses money on average.</b>;
  if (sold < fair)
    return <span class="amber">It is sold at {money(sold)}, which is too little for what you want.</span>;
  return <span class="celadon">It is sold at {money(sold)}, which is more than it must cost.</span>;
}
