import { signInFirst } from '../../../api/client';
import type { Formatter } from '../../../format/formatter';
import { usePlanPrice } from '../plan-price';
import type { Course, Plan } from './queries';

type Props = { plan: Plan; next: Course | null; formatter: Formatter };

/** What a place would have to cost if the plan were held today, and the way to its next course's price. */
export function FairPrice({ plan, next, formatter }: Props) {
  const { data: price, error } = usePlanPrice(plan);
  if (error) signInFirst(error);
  const [first] = next?.sessions ?? [];
  return (
    <p class="fair">
      {price && (
        <>
          If it ran today, a {plan.kind === 'openStudio' ? 'bench' : 'place'} must cost{' '}
          <b>{formatter.moneyInText(price.result.fairPriceMinor)}</b>.{' '}
        </>
      )}
      {error && !price && <>It has no price yet. {error.message} </>}
      {next && first && (
        <a href={`/courses/price/${next.id}`}>
          The price of “{next.title}” from {formatter.date(formatter.dayOf(first.startsAt))}
        </a>
      )}
    </p>
  );
}
