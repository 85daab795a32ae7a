import '../../../charts/boards.css';
import '../../../ui/styles/raised.css';
import './plans.css';
import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import type { Schemas } from '../../../api/client';
import { type Assumption, AssumptionsNote, listAssumptions } from '../../../basics/assumptions';
import { capital, count, type Formatter } from '../../../format/formatter';
import { type At, Page } from '../../../ui/page';
import { CoursesTabs } from '../courses-tabs';
import { EditPlan } from './edit-plan';
import { FairPrice } from './fair-price';
import { oneLine } from './labels';
import { PlanCard } from './plan-card';
import {
  findCoursesOfPlan,
  findPlanPrice,
  type InCalendar,
  type Opened,
  openPlan,
  type PriceInShort,
  readWorkshop,
  type Workshop,
} from './queries';
import { RetirePlan } from './retire-plan';
import { ToCalendar } from './schedule-course';
import { loadDraft } from './unsaved-draft';

type Known = {
  opened: Opened;
  workshop: Workshop;
  courses: InCalendar;
  price: Pick<PriceInShort, 'fairPriceMinor' | 'refusal'>;
  assumptions: Assumption[];
};

/** Course plan A plan, read like a recipe, and written anew where it is wrong. */
export function PlanPage() {
  const planId = useRoute().params.planId ?? '';
  const first = useCallback(
    async (signal: AbortSignal): Promise<Known> => {
      const [opened, workshop, courses, price, assumptions] = await Promise.all([
        openPlan(planId),
        readWorkshop(),
        findCoursesOfPlan(planId, signal),
        findPlanPrice(planId, signal),
        listAssumptions(signal),
      ]);
      return { opened, workshop, courses, price, assumptions };
    },
    [planId],
  );
  return (
    <Page fresh key={planId} question="Course plan" tabs={(me) => <CoursesTabs me={me} />} first={first}>
      {(known, at) => (
        <>
          <OnePlan {...known} {...at} />
        </>
      )}
    </Page>
  );
}

/** "“Bowls” is in the calendar from 5 May.", or of a series how often and until when. */
function scheduled(made: readonly Schemas['Course'][], { date, dayOf }: Formatter): string {
  const starts = made.flatMap(({ sessions }) => sessions.slice(0, 1).map(({ startsAt }) => date(dayOf(startsAt))));
  const title = `“${made[0]?.title ?? ''}” is in the calendar`;
  if (made.length > 1) return `${title} ${made.length} times, from ${starts[0]} to ${starts.at(-1)}.`;
  return `${title}${starts[0] ? ` from ${starts[0]}` : ''}.`;
}

function OnePlan({ opened, workshop, courses, price, assumptions, me, formatter }: At & Known) {
  const { plan } = opened;
  const [kept, setKept] = useState(() => loadDraft(plan.id));
  const [editing, setEditing] = useState(kept !== null);
  const [said, setSaid] = useState('');
  const here = useRef<HTMLParagraphElement>(null);
  useEffect(() => {
    if (said) here.current?.focus(); // the form that was sent is gone
  }, [said]);
  const { next, last, all, allIsMinimum } = courses;
  const close = () => {
    setKept(null);
    setEditing(false);
  };
  return (
    <>
      <p class="answer">
        <b>{plan.name}.</b> {oneLine(plan)}
      </p>
      {said && (
        <p class="done" role="status" tabIndex={-1} ref={here}>
          {said}
        </p>
      )}
      <FairPrice
        {...{ ...price, formatter }}
        kind={plan.kind}
        next={next && { courseId: next.id, title: next.title, startsAt: next.sessions[0]?.startsAt ?? '' }}
      />
      <AssumptionsNote assumptions={assumptions} />
      {editing ? (
        <EditPlan
          {...{ opened, kept, workshop, formatter, all }}
          onSaved={() => {
            close();
            setSaid('The plan is kept.');
          }}
          onLeave={close}
        />
      ) : (
        <>
          <PlanCard {...{ plan, workshop, formatter }} />
          {all > 0 && (
            <p class="quiet">
              {allIsMinimum ? `More than ${all} courses use` : capital(count(all, 'course uses', 'courses use'))} it:
              their dates and prices won’t change when it is corrected.
            </p>
          )}
          {plan.retiredOn === null ? (
            <ToCalendar
              {...{ me, plan, workshop, formatter }}
              lastCourseId={last?.id}
              onDone={(made) => setSaid(scheduled(made, formatter))}
            />
          ) : (
            <p>Retired on {formatter.date(plan.retiredOn)}: it is not offered for new courses.</p>
          )}
          <p class="acts no-paper">
            <button type="button" class="quiet" onClick={() => setEditing(true)}>
              Correct this plan
            </button>
            <a href={`/courses/plans/new/${plan.id}`}>Begin a new plan from this one</a>
            <RetirePlan plan={plan} />
          </p>
        </>
      )}
    </>
  );
}
