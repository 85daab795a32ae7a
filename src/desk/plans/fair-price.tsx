import { useEffect, useState } from 'preact/hooks';
import { api, type Schemas, signInFirst } from '../client';
import type { Tell } from '../tell';
import type { Course, Plan } from './read';

type Priced = { price: Schemas['PlanPrice'] } | { because: string };
type Props = { plan: Plan; next: Course | null; tell: Tell };

/** What a place would have to cost if the plan were held today, and the way to its next course's price. */
export function FairPrice({ plan, next, tell }: Props) {
  const [priced, setPriced] = useState<Priced | null>(null);
  useEffect(() => {
    let current = true;
    if (plan.kind === 'private') return;
    api.GET('/api/course-plans/{planId}/price', { params: { path: { planId: plan.id } } }).then(
      ({ data }) => current && data && setPriced({ price: data }),
      (error) => current && !signInFirst(error) && setPriced({ because: (error as Error).message }),
    );
    return () => {
      current = false;
    };
  }, [plan]);
  const [first] = next?.sessions ?? [];
  return (
    <p class="fair">
      {priced && 'price' in priced && (
        <>
          Held today, a {plan.kind === 'openStudio' ? 'bench' : 'place'} must cost{' '}
          <b>{tell.money(priced.price.result.fairPriceMinor)}</b>.{' '}
        </>
      )}
      {priced && 'because' in priced && <>It has no price yet. {priced.because} </>}
      {next && first && (
        <a href={`/price/${next.id}`}>
          The price of “{next.title}” from {tell.date(tell.dayOf(first.startsAt))}
        </a>
      )}
    </p>
  );
}
