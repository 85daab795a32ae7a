import type { Formatter } from '../../../format/formatter';
import type { Plan, PriceInShort } from './queries';

type Props = Pick<PriceInShort, 'fairPriceMinor' | 'refusal' | 'next'> & { kind: Plan['kind']; formatter: Formatter };

/** What a place would have to cost if the plan were held today, and the way to its next course's price. */
export function FairPrice({ kind, fairPriceMinor, refusal, next, formatter }: Props) {
  return (
    <p class="fair">
      {fairPriceMinor !== null && (
        <>
          If it ran today, a {kind === 'openStudio' ? 'bench' : 'place'} must cost{' '}
          <b>{formatter.moneyInText(fairPriceMinor)}</b>.{' '}
        </>
      )}
      {refusal !== null && kind !== 'private' && <>It has no price yet. {refusal} </>}
      {next && (
        <a href={`/courses/price/${next.courseId}`}>
          The price of “{next.title}” from {formatter.date(formatter.dayOf(next.startsAt))}
        </a>
      )}
    </p>
  );
}
