import './price.css';
import { useMemo, useState } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import type { Schemas } from '../../../api/client';
import { AssumptionsNote } from '../../../basics/assumptions';
import { ErrorMessage } from '../../../forms/error-message';
import { Heading } from '../../../ui/heading';
import { Layout } from '../../../ui/layout';
import { useTitle } from '../../../ui/use-title';
import { CoursesTabs } from '../courses-tabs';
import { ChangesSince } from './changes-since';
import { CompareCourses } from './compare-courses';
import { CostTables } from './cost-table';
import { CourseSelect } from './course-select';
import { EnrolmentNote } from './enrolment-note';
import { KilnLoads } from './kiln-loads';
import { type Words, wordsIn } from './labels';
import { PriceRule } from './price-scale-chart';
import { PrivateSession } from './private-session';
import { ProfitChart } from './profit-chart';
import { ProfitTable } from './profit-table';
import { type Calculation, recalculate } from './recalculate';
import { SaveQuote } from './save-quote';
import { Sensitivities } from './sensitivities';
import { PriceSummary } from './summary';
import { TargetPrice } from './target-price';
import { UnitEconomics } from './unit-economics-table';
import { usePrice } from './use-price';
import { hasOtherFigures, today, type WhatIf } from './what-if';
import { WhatIfForm } from './what-if-form';

const QUESTION = 'What to charge';

/** What to charge */
export function PricePage() {
  const { params } = useRoute();
  const shown = usePrice(params.courseId);
  const title = shown.at === 'there' ? shown.price?.title : undefined;
  const question = title ? `What must “${title}” cost?` : QUESTION;
  useTitle(question);
  if (shown.at === 'reading') return <main aria-busy="true" />;
  if (shown.at === 'broken')
    return (
      <main>
        <Heading>{question}</Heading>
        <ErrorMessage>{shown.error}</ErrorMessage>
        <a href={location.pathname}>Try again</a>
      </main>
    );
  const { me, studio, courses, price, error } = shown;
  const words = wordsIn(studio);
  return (
    <Layout me={me} question={question}>
      <CoursesTabs me={me} />
      <CourseSelect courses={courses} chosen={price?.courseId ?? params.courseId ?? ''} words={words} />
      {price === null ? (
        <NoPrice error={error} />
      ) : price.kind === 'private' ? (
        <PrivateSession key={price.courseId} price={price} words={words} />
      ) : (
        <PricedCourse key={price.courseId} price={price} courses={courses} words={words} />
      )}
      <p class="no-paper">
        <a href="/courses/results">What past courses really cost</a>
      </p>
    </Layout>
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

type ReckonedProps = { price: Schemas['CoursePrice']; courses: Schemas['CourseDates'][]; words: Words };

function PricedCourse({ price, courses, words }: ReckonedProps) {
  const [wanted, setWanted] = useState<WhatIf>(() => today(price.inputs));
  const outcome = useMemo(() => recalculate(price.inputs, wanted, price.priceMinor), [price, wanted]);
  const calculation = 'refusal' in outcome ? null : outcome;
  const instead = hasOtherFigures(price.inputs, wanted) ? price.result.fairPriceMinor : null;
  const [changes, setChanges] = useState({ since: price.since, unknown: price.sinceUnknown });
  return (
    <>
      {'refusal' in outcome ? (
        <ErrorMessage>{outcome.refusal}</ErrorMessage>
      ) : (
        <PriceSummary calculation={outcome} instead={instead} words={words} />
      )}
      <AssumptionsNote />
      <ChangesSince {...changes} fairMinor={price.result.fairPriceMinor} words={words} />
      <div class="bench">
        <div class="drawn">{calculation && <Drawn calculation={calculation} words={words} />}</div>
        <div class="tried">
          <WhatIfForm {...{ inputs: price.inputs, calculation, wanted, words }} onChange={setWanted} />
          <SaveQuote courseId={price.courseId} onSaved={() => setChanges({ since: null, unknown: null })} />
        </div>
      </div>
      {calculation && (
        <div class="workings">
          <EnrolmentNote calculation={calculation} words={words} />
          <TargetPrice calculation={calculation} words={words} />
          <Sensitivities calculation={calculation} words={words} />
          <ProfitTable calculation={calculation} words={words} />
          <CostTables calculation={calculation} words={words} />
          <UnitEconomics calculation={calculation} words={words} />
          <KilnLoads courseId={price.courseId} expectedBooked={calculation.result.expectedBooked} words={words} />
          <CompareCourses {...{ courses, calculation, words }} courseId={price.courseId} title={price.title} />
        </div>
      )}
    </>
  );
}

function Drawn({ calculation, words }: { calculation: Calculation; words: Words }) {
  return (
    <>
      <section>
        <h2>
          The prices <span>in order, to scale</span>
        </h2>
        <PriceRule calculation={calculation} words={words} />
      </section>
      <section>
        <h2>
          What is left over{' '}
          <span>at {words.money(calculation.askedMinor)} a place, by number of students; wider bars are likelier</span>
        </h2>
        <ProfitChart calculation={calculation} words={words} />
      </section>
    </>
  );
}
