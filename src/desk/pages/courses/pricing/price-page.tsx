import './price.css';
import type { ComponentChild } from 'preact';
import { useCallback, useMemo, useState } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import type { Schemas } from '../../../api/client';
import type { CoursesFound } from '../../../api/lists';
import { type Assumption, AssumptionsNote } from '../../../basics/assumptions';
import { useCalm, useNextTask } from '../../../charts/use-later';
import { ErrorMessage } from '../../../forms/error-message';
import { Page } from '../../../ui/page';
import { CourseSelect } from '../course-select';
import { CoursesTabs } from '../courses-tabs';
import { ChangesSince } from './changes-since';
import { CompareCourses } from './compare-courses';
import { CostTables } from './cost-table';
import { EnrolmentNote } from './enrolment-note';
import { KilnLoads } from './kiln-loads';
import { type Words, wordsIn } from './labels';
import { PriceRule } from './price-scale-chart';
import type { Works } from './price-works';
import { PrivateSession } from './private-session';
import { ProfitChart } from './profit-chart';
import { ProfitTable } from './profit-table';
import { getPrice, type Priced } from './queries';
import { type Calculation, todaysCalculation } from './recalculate';
import { SaveQuote } from './save-quote';
import { Sensitivities } from './sensitivities';
import { PriceSummary } from './summary';
import { TargetPrice } from './target-price';
import { UnitEconomics } from './unit-economics-table';
import { useWorkedOut } from './use-worked-out';
import { hasOtherFigures, today, type WhatIf } from './what-if';
import { WhatIfForm } from './what-if-form';

const QUESTION = 'What to charge';

/** What to charge */
export function PricePage() {
  const { params } = useRoute();
  const { courseId } = params;
  const first = useCallback((signal: AbortSignal) => getPrice(courseId, signal), [courseId]);
  return (
    <Page
      question={QUESTION}
      headed={({ price }) => (price?.title ? `What must “${price.title}” cost?` : QUESTION)}
      tabs={(me) => <CoursesTabs me={me} />}
      first={first}
      keep
    >
      {(priced, { me: { studio } }) => studio && <Price {...priced} courseId={courseId} words={wordsIn(studio)} />}
    </Page>
  );
}

type PriceProps = Priced & { courseId: string | undefined; words: Words };

function Price({ courses, price, refusal, assumptions, courseId, words }: PriceProps) {
  const chosen =
    courses.items.find(({ id }) => id === (price?.courseId ?? courseId)) ??
    (price && { id: price.courseId, title: price.title, sessions: [] });
  return (
    <>
      <CourseSelect
        {...{ courses, chosen }}
        path="/courses/price"
        others={{ label: 'Find a later one', to: '/courses' }}
        day={words.day}
      />
      {price === null ? (
        <NoPrice error={refusal} />
      ) : price.kind === 'private' ? (
        <PrivateSession key={price.courseId} {...{ price, assumptions, words }} />
      ) : (
        <PricedCourse key={price.courseId} {...{ price, courses, assumptions, words }} />
      )}
      <p class="no-paper">
        <a href="/courses/results">What past courses really cost</a>
      </p>
    </>
  );
}

function NoPrice({ error }: { error: string }) {
  if (error) return <ErrorMessage>{error}</ErrorMessage>;
  return (
    <p class="answer">
      No courses are coming up. Write down <a href="/courses/plans">how you run one</a>, and put it in the calendar: its
      price is then shown here.
    </p>
  );
}

type PricedProps = {
  price: Schemas['CoursePrice'];
  courses: CoursesFound;
  assumptions: readonly Assumption[];
  words: Words;
};

/** What is tried is worked out beside the page (use-worked-out.ts), so no slider waits for it on its way. */
function useCalculation(price: PricedProps['price'], wanted: WhatIf) {
  const { inputs, priceMinor } = price;
  const given = useMemo<Parameters<Works['recalculate']>>(
    () => [inputs, wanted, priceMinor],
    [inputs, wanted, priceMinor],
  );
  const todays = useMemo(() => todaysCalculation(price), [price]);
  const { answer = todays, error } = useWorkedOut('recalculate', given, todays);
  return error ? { refusal: error } : answer;
}

function PricedCourse({ price, courses, assumptions, words }: PricedProps) {
  const [wanted, setWanted] = useState<WhatIf>(() => today(price.inputs));
  const outcome = useCalculation(price, wanted);
  const calculation = 'refusal' in outcome ? null : outcome;
  const instead = hasOtherFigures(price.inputs, wanted) ? price.result.fairPriceMinor : null;
  // each part is drawn anew only when what it shows is another: a slider that moves draws itself alone
  const summary = useMemo(
    () =>
      'refusal' in outcome ? (
        <ErrorMessage>{outcome.refusal}</ErrorMessage>
      ) : (
        <PriceSummary calculation={outcome} instead={instead} words={words} />
      ),
    [outcome, instead, words],
  );
  const workings = useMemo(
    () => calculation && <Workings {...{ price, courses, calculation, words }} />,
    [price, courses, calculation, words],
  );
  const since = useMemo(() => <Since {...{ price, assumptions, words }} />, [price, assumptions, words]);
  return (
    <>
      {summary}
      {since}
      <div class="bench">
        <div class="drawn">{calculation && <Drawn calculation={calculation} words={words} />}</div>
        <div class="tried">
          <WhatIfForm {...{ inputs: price.inputs, calculation, wanted, words }} onChange={setWanted} />
          <SaveQuote courseId={price.courseId} />
        </div>
      </div>
      {workings}
    </>
  );
}

function Since({ price, assumptions, words }: Omit<PricedProps, 'courses'>) {
  return (
    <>
      <AssumptionsNote assumptions={assumptions} />
      <ChangesSince price={price} words={words} />
    </>
  );
}

type WorkingsProps = Omit<PricedProps, 'assumptions'> & { calculation: Calculation };

/** They follow a slider once it stands still, each in a task of its own, and as long as they are closed they are not drawn at all. */
function Workings({ price, courses, calculation, words }: WorkingsProps) {
  const still = useCalm(calculation);
  const parts: ((calm: Calculation) => ComponentChild)[] = [
    (calm) => <EnrolmentNote calculation={calm} words={words} />,
    (calm) => <TargetPrice calculation={calm} words={words} />,
    (calm) => <Sensitivities calculation={calm} words={words} />,
    (calm) => <ProfitTable calculation={calm} words={words} />,
    (calm) => <CostTables calculation={calm} words={words} />,
    (calm) => <UnitEconomics calculation={calm} words={words} />,
    ({ result }) => <KilnLoads courseId={price.courseId} expectedBooked={result.expectedBooked} words={words} />,
    (calm) => (
      <CompareCourses {...{ courses, words }} calculation={calm} courseId={price.courseId} title={price.title} />
    ),
  ];
  return (
    <div class="workings">
      {parts.map((part, i) => (
        <Later key={i} value={still}>
          {part}
        </Later>
      ))}
    </div>
  );
}

function Later<T>({ value, children }: { value: T; children(later: T): ComponentChild }) {
  const later = useNextTask(value);
  return useMemo(() => <>{children(later)}</>, [later]);
}

/** Each drawing follows the sentence in a task of its own, so that none of a slider that is dragged has to draw it all. */
function Drawn({ calculation, words }: { calculation: Calculation; words: Words }) {
  const second = useNextTask(calculation);
  const third = useNextTask(second);
  const rule = useMemo(
    () => (
      <section>
        <h2>
          The prices <span>in order, to scale</span>
        </h2>
        <PriceRule calculation={second} words={words} />
      </section>
    ),
    [second, words],
  );
  const profit = useMemo(
    () => (
      <section>
        <h2>
          What is left over{' '}
          <span>at {words.moneyInText(third.askedMinor)} a place, by number of students; wider bars are likelier</span>
        </h2>
        <ProfitChart calculation={third} words={words} />
      </section>
    ),
    [third, words],
  );
  return (
    <>
      {rule}
      {profit}
    </>
  );
}
