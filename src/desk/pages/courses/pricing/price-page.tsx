import './price.css';
import { useCallback, useMemo, useState } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import type { Schemas } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import { AssumptionsNote } from '../../../basics/assumptions';
import { ErrorMessage } from '../../../forms/error-message';
import { Page } from '../../../ui/page';
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
import { getPrice, type Priced } from './queries';
import { type Calculation, recalculate } from './recalculate';
import { SaveQuote } from './save-quote';
import { Sensitivities } from './sensitivities';
import { PriceSummary } from './summary';
import { TargetPrice } from './target-price';
import { UnitEconomics } from './unit-economics-table';
import { hasOtherFigures, today, type WhatIf } from './what-if';
import { WhatIfForm } from './what-if-form';

const QUESTION = 'What to charge';

/** What to charge */
export function PricePage() {
  const { params } = useRoute();
  const { courseId } = params;
  const read = useCallback((_: Me, signal: AbortSignal) => getPrice(courseId, signal), [courseId]);
  return (
    <Page
      question={QUESTION}
      headed={({ price }) => (price?.title ? `What must “${price.title}” cost?` : QUESTION)}
      tabs={(me) => <CoursesTabs me={me} />}
      read={read}
      keep
    >
      {({ courses, price, refusal }, { me: { studio } }) =>
        studio && (
          <Price {...{ courses, price, refusal }} chosen={price?.courseId ?? courseId ?? ''} words={wordsIn(studio)} />
        )
      }
    </Page>
  );
}

function Price({ courses, price, refusal, chosen, words }: Priced & { chosen: string; words: Words }) {
  return (
    <>
      <CourseSelect {...{ courses, chosen, words }} />
      {price === null ? (
        <NoPrice error={refusal} />
      ) : price.kind === 'private' ? (
        <PrivateSession key={price.courseId} price={price} words={words} />
      ) : (
        <PricedCourse key={price.courseId} price={price} courses={courses} words={words} />
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

type PricedProps = { price: Schemas['CoursePrice']; courses: Schemas['CourseDates'][]; words: Words };

function PricedCourse({ price, courses, words }: PricedProps) {
  const [wanted, setWanted] = useState<WhatIf>(() => today(price.inputs));
  const outcome = useMemo(() => recalculate(price.inputs, wanted, price.priceMinor), [price, wanted]);
  const calculation = 'refusal' in outcome ? null : outcome;
  const instead = hasOtherFigures(price.inputs, wanted) ? price.result.fairPriceMinor : null;
  return (
    <>
      {'refusal' in outcome ? (
        <ErrorMessage>{outcome.refusal}</ErrorMessage>
      ) : (
        <PriceSummary calculation={outcome} instead={instead} words={words} />
      )}
      <AssumptionsNote />
      <ChangesSince
        since={price.since}
        unknown={price.sinceUnknown}
        fairMinor={price.result.fairPriceMinor}
        words={words}
      />
      <div class="bench">
        <div class="drawn">{calculation && <Drawn calculation={calculation} words={words} />}</div>
        <div class="tried">
          <WhatIfForm {...{ inputs: price.inputs, calculation, wanted, words }} onChange={setWanted} />
          <SaveQuote courseId={price.courseId} />
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
          <span>
            at {words.moneyInText(calculation.askedMinor)} a place, by number of students; wider bars are likelier
          </span>
        </h2>
        <ProfitChart calculation={calculation} words={words} />
      </section>
    </>
  );
}
