import '../../../charts/boards.css';
import './plans.css';
import { scaleFor } from '../../../charts/px-scale';
import { capital, count } from '../../../format/formatter';
import { type At, Page } from '../../../ui/page';
import { CoursesTabs } from '../courses-tabs';
import { FairPrice } from './fair-price';
import { oneLine } from './labels';
import { Makes } from './pieces-made';
import { type Plan, type PriceInShort, readPlans } from './queries';

/** Which courses can you hold? */
export function PlansPage() {
  return (
    <Page question="Your course plans" tabs={(me) => <CoursesTabs me={me} />} first={readPlans}>
      {(known, at) => (
        <>
          <Plans {...known} {...at} />
        </>
      )}
    </Page>
  );
}

type Known = { plans: Plan[]; prices: PriceInShort[] };

function Plans({ plans: all, prices, formatter }: At & Known) {
  const plans = all.filter(({ retiredOn }) => retiredOn === null);
  const retired = all.filter(({ retiredOn }) => retiredOn !== null);
  const offered = new Set(plans.map(({ id }) => id));
  const coming = prices.filter(({ planId, next }) => next !== null && offered.has(planId)).length;
  return (
    <>
      <p class="answer">{answerOf(plans.length, coming)}</p>
      <p class="acts no-paper">
        <a class="does" href="/courses/plans/new">
          Write a new plan
        </a>
      </p>
      <PlanList {...{ plans, prices, formatter }} />
      {retired.length > 0 && (
        <details>
          <summary>{capital(count(retired.length, 'retired plan'))}</summary>
          <PlanList {...{ plans: retired, prices, formatter }} />
        </details>
      )}
    </>
  );
}

function PlanList({ plans, prices, formatter }: Known & Pick<At, 'formatter'>) {
  const scale = scaleFor(plans.flatMap(({ pieces }) => pieces.map(({ size }) => size)));
  const priceOf = new Map(prices.map((price) => [price.planId, price]));
  return (
    <ul class="plans">
      {plans.map((plan) => (
        <li key={plan.id}>
          <div>
            <h2 id={`plan-${plan.id}`}>
              <a href={`/courses/plans/${plan.id}`}>{plan.name}</a>
            </h2>
            <p>{oneLine(plan)}</p>
            <FairPrice {...(priceOf.get(plan.id) ?? UNPRICED)} kind={plan.kind} formatter={formatter} />
          </div>
          {plan.pieces.length > 0 && <Makes pieces={plan.pieces} scale={scale} labelledBy={`plan-${plan.id}`} />}
        </li>
      ))}
    </ul>
  );
}

/** One that somebody wrote a moment ago may come without a price. */
const UNPRICED = { fairPriceMinor: null, refusal: null, next: null };

function answerOf(all: number, coming: number): string {
  if (all === 0)
    return 'None is written down yet. A plan is the recipe of a course: its sessions, what each student makes and of what, and the terms. Its price, its clay and its kiln loads follow from it.';
  const known = `${capital(count(all, 'plan'))}. `;
  if (coming === 0) return `${known}None of them is in the calendar.`;
  if (coming === all) return `${known}${all === 1 ? 'It is' : 'All of them are'} in the calendar.`;
  return `${known}${capital(count(coming, 'of them is', 'of them are'))} in the calendar.`;
}
