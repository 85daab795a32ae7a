import '../../../ui/styles/raised.css';
import './start.css';
import { useEffect, useRef, useState } from 'preact/hooks';
import { api, type Schemas } from '../../../api/client';
import { further } from '../../../api/idempotency-key';
import { listCoursePlans } from '../../../api/lists';
import { useMutation } from '../../../api/use-mutation';
import { type Assumption, listAssumptions } from '../../../basics/assumptions';
import type { Context, Values } from '../../../basics/basic';
import { count } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { Unreadable } from '../../../forms/use-form';
import { type At, Page } from '../../../ui/page';
import { StudioTabs } from '../studio-tabs';
import { AssumptionList } from './assumption-list';
import { type Known, readKnown, STEPS, type Step } from './steps';

type Answer = { known: Known; planId: string | null; hasCourse: boolean; assumptions: Assumption[] };

async function readStart(_: Schemas['Me'], signal: AbortSignal): Promise<Answer> {
  const [known, plans, courses, assumptions] = await Promise.all([
    readKnown(),
    listCoursePlans(signal),
    api.GET('/api/courses', { params: { query: { limit: 1 } }, signal }),
    listAssumptions(),
  ]);
  return { known, planId: plans[0]?.id ?? null, hasCourse: (courses.data?.items.length ?? 0) > 0, assumptions };
}

/** What a new studio needs before its first price, as one list of short forms. */
export function StartPage() {
  return (
    <Page question="First steps" tabs={(me) => <StudioTabs me={me} />} read={readStart}>
      {(answer, at) => <Start {...answer} {...at} />}
    </Page>
  );
}

function Start({ known, planId, hasCourse, assumptions, me, formatter, again }: Answer & At) {
  const context = { formatter, today: me.today };
  const left = STEPS.filter(({ done }) => done(known) === null);
  return (
    <>
      <p class="answer">{answerOf(left.length, hasCourse)}</p>
      {!hasCourse && <StepList {...{ known, left, context, again }} />}
      {!hasCourse && left.length === 0 && <Next planId={planId} />}
      <AssumptionList assumptions={assumptions} />
    </>
  );
}

function answerOf(left: number, hasCourse: boolean): string {
  if (hasCourse) return 'Your first course is in the calendar: the first steps are done.';
  if (left === 0) return 'Everything is there for your first price.';
  return `${count(left, 'step')} to your first price. What you don’t know yet can stay as it is: it is marked as an assumption.`.replace(
    /^./,
    (letter) => letter.toUpperCase(),
  );
}

type ListProps = { known: Known; left: readonly Step[]; context: Context; again(): Promise<void> };

function StepList({ known, left, context, again }: ListProps) {
  const typed = useRef(new Map<string, Values>());
  const all = useMutation({ thenRead: true });
  /** Each as its form shows it, one after another: where one fails, those before it are saved. */
  const saveAll = async () => {
    const isDone = await all.run([...typed.current], async (headers) => {
      for (const [i, { title, save }] of left.entries())
        await save(typed.current.get(title), further(headers, i), context).catch((error: Error) => {
          const [fault] = error instanceof Unreadable ? error.faults : [];
          throw Object.assign(error, { message: `${title}: ${fault?.detail ?? error.message}` });
        });
    });
    if (!isDone) await again(); // some of them may be
  };
  return (
    <>
      <ol class="steps">
        {STEPS.map((step) => (
          <OneStep
            key={step.title}
            {...{ step, context }}
            isNext={step === left[0]}
            done={step.done(known)}
            onTyped={(values) => typed.current.set(step.title, values)}
          />
        ))}
      </ol>
      {all.error && <ErrorMessage>{all.error}</ErrorMessage>}
      {left.length > 0 && (
        <p class="acts">
          <button type="button" class="quiet" onClick={saveAll} aria-disabled={all.busy}>
            Save the rest as shown
          </button>
        </p>
      )}
    </>
  );
}

type StepProps = {
  step: Step;
  done: string | null;
  isNext: boolean;
  context: Context;
  onTyped(values: Values): void;
};

function OneStep({ step: { title, why, form }, done, isNext, context, onTyped }: StepProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  const [saved, setSaved] = useState(false);
  useEffect(() => {
    if (saved && done !== null) heading.current?.focus(); // the button that was pressed is gone
  }, [saved, done]);
  const onSaved = () => setSaved(true);
  return (
    <li class={done === null ? undefined : 'done-step'}>
      <h2 ref={heading} tabIndex={-1}>
        {title} <span>{done === null ? why : `Done: ${done}`}</span>
      </h2>
      {done === null && form({ context, quiet: !isNext, onSaved, onTyped })}
    </li>
  );
}

/** The course itself: its plan first, then its price and its dates on the plan's page. */
const Next = ({ planId }: { planId: string | null }) => (
  <p class="acts">
    {planId === null ? (
      <a class="does" href="/courses/plans/new">
        Write your first plan
      </a>
    ) : (
      <a class="does" href={`/courses/plans/${planId}`}>
        Price your plan and give it dates
      </a>
    )}
  </p>
);
