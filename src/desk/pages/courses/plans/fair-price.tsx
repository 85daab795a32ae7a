import { useEffect, useState } from 'preact/hooks';
import { api, type Schemas, signInFirst } from '../../../api/client';
import type { Formatter } from '../../../format/formatter';
import type { Course, Plan } from './queries';

type Priced = { price: Schemas['PlanPrice'] } | { error: string };
type Props = { plan: Plan; next: Course | null; formatter: Formatter };

/** What a place would have to cost if the plan were held today, and the way to its next course's price. */
export function FairPrice({ plan, next, formatter }: Props) {
  const [priced, setPriced] = useState<Priced | null>(null);
  useEffect(() => {
    let current = true;
    if (plan.kind === 'private') return;
    api.GET('/api/course-plans/{planId}/price', { params: { path: { planId: plan.id } } }).then(
      ({ data }) => current && data && setPriced({ price: data }),
      (error) => current && !signInFirst(error) && setPriced({ error: (error as Error).message }),
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
          If it ran today, a {plan.kind === 'openStudio' ? 'bench' : 'place'} must cost{' '}
          <b>{formatter.money(priced.price.result.fairPriceMinor)}</b>.{' '}
        </>
      )}
      {priced && 'error' in priced && <>It has no price yet. {priced.error} </>}
      {next && first && (
        <a href={`/courses/price/${next.id}`}>
          The price of “{next.title}” from {formatter.date(formatter.dayOf(first.startsAt))}
        </a>
      )}
    </p>
  );
}
