import './price.css';
import { useMemo, useState } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import type { Schemas } from '../../../api/client';
import { ErrorMessage } from '../../../forms/error-message';
import { Heading } from '../../../ui/heading';
import { Layout } from '../../../ui/layout';
import { useTitle } from '../../../ui/use-title';
import { CoursesTabs } from '../courses-tabs';
import { Since } from './changes-since';
import { Beside } from './compare-courses';
import { Lines } from './cost-table';
import { Choice } from './course-select';
import { Prospect } from './enrolment-note';
import { Loads } from './kiln-loads';
import { type Words, wordsIn } from './labels';
import { PriceRule } from './price-scale-chart';
import { PrivateSession } from './private-session';
import { Ladder } from './profit-chart';
import { Rungs } from './profit-table';
import { type Reckoning, reckon } from './recalculate';
import { Keep } from './save-quote';
import { HangsOn } from './sensitivities';
import { Answer } from './summary';
import { Ceiling } from './target-price';
import { PlaceTable } from './unit-economics-table';
import { usePrice } from './use-price';
import { today, triesOtherFigures, type WhatIf } from './what-if';
import { TryOut } from './what-if-form';

const QUESTION = 'What must this course cost?';

/** What must this course cost? */
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
      <Choice courses={courses} chosen={price?.courseId ?? params.courseId ?? ''} words={words} />
      {price === null ? (
        <NotYet error={error} />
      ) : price.kind === 'private' ? (
        <PrivateSession key={price.courseId} price={price} words={words} />
      ) : (
        <Reckoned key={price.courseId} price={price} courses={courses} words={words} />
      )}
      <p class="no-paper">
        <a href="/courses/results">What past courses really cost</a>
      </p>
    </Layout>
  );
}

function NotYet({ error }: { error: string }) {
  if (error) return <ErrorMessage>{error}</ErrorMessage>;
  return (
    <p class="answer">
      No courses are coming up. Write down <a href="/courses/plans">how you run one</a>, and put it in the calendar: its
      price is then shown here.
    </p>
  );
}

type ReckonedProps = { price: Schemas['CoursePrice']; courses: Schemas['CourseDates'][]; words: Words };

function Reckoned({ price, courses, words }: ReckonedProps) {
  const [wanted, setWanted] = useState<WhatIf>(() => today(price.inputs));
  const outcome = useMemo(() => reckon(price.inputs, wanted, price.priceMinor), [price, wanted]);
  const reckoning = 'refusal' in outcome ? null : outcome;
  const instead = triesOtherFigures(price.inputs, wanted) ? price.result.fairPriceMinor : null;
  const [since, setSince] = useState(price.since);
  return (
    <>
      {'refusal' in outcome ? (
        <ErrorMessage>{outcome.refusal}</ErrorMessage>
      ) : (
        <Answer reckoning={outcome} instead={instead} words={words} />
      )}
      <Since since={since} fairMinor={price.result.fairPriceMinor} words={words} />
      <div class="bench">
        <div class="drawn">{reckoning && <Drawn reckoning={reckoning} words={words} />}</div>
        <div class="tried">
          <TryOut {...{ inputs: price.inputs, reckoning, wanted, words }} onChange={setWanted} />
          <Keep courseId={price.courseId} onSaved={() => setSince(null)} />
          {reckoning && <Ceiling reckoning={reckoning} words={words} />}
        </div>
        <div class="told">{reckoning && <Rungs reckoning={reckoning} words={words} />}</div>
      </div>
      {reckoning && (
        <>
          <Lines reckoning={reckoning} words={words} />
          <PlaceTable reckoning={reckoning} words={words} />
          <Loads courseId={price.courseId} expectedBooked={reckoning.result.expectedBooked} words={words} />
          <Beside {...{ courses, reckoning, words }} courseId={price.courseId} title={price.title} />
        </>
      )}
    </>
  );
}

function Drawn({ reckoning, words }: { reckoning: Reckoning; words: Words }) {
  return (
    <>
      <section>
        <h2>
          The prices <span>in order, to scale</span>
        </h2>
        <PriceRule reckoning={reckoning} words={words} />
        <p class="quiet">
          Until its costs are covered it costs you money, on average; from there on it pays you something, and from the
          next mark on your {words.money(reckoning.inputs.wagePerHourMinor)} an hour. From the fair price on it leaves
          the surplus that you want, at the risk that you accept.
        </p>
      </section>
      <section>
        <h2>
          What is left over <span>at {words.money(reckoning.askedMinor)} a place, by number of students</span>
        </h2>
        <Ladder reckoning={reckoning} words={words} />
        <Prospect reckoning={reckoning} words={words} />
      </section>
      <HangsOn reckoning={reckoning} words={words} />
    </>
  );
}
