import '../look/price.css';
import { useEffect, useMemo, useState } from 'preact/hooks';
import { useLocation, useRoute } from 'preact-iso';
import { api, Refused, type Schemas } from '../client';
import { Fault } from '../entry/field';
import { Frame } from '../frame';
import { Answer } from './answer';
import { Ladder } from './ladder';
import { Lines } from './lines';
import { PriceRule } from './price-rule';
import { reckon } from './reckoning';
import { Rungs } from './rungs';
import { TryOut } from './try-out';
import { type Shown, usePrice } from './use-price';
import { today, type WhatIf } from './what-if';
import { moneyIn } from './words';

/** What must this course cost? */
export function PricePage() {
  const { params } = useRoute();
  const shown = usePrice(params.courseId);
  if (shown.at === 'reading') return <main aria-busy="true" />;
  if (shown.at === 'broken')
    return (
      <main>
        <h1>What must this course cost?</h1>
        <Fault>{shown.because}</Fault>
      </main>
    );
  return (
    <Frame
      me={shown.me}
      question={shown.price ? `What must “${shown.price.title}” cost?` : 'What must this course cost?'}
    >
      <Choice courses={shown.courses} chosen={shown.price?.courseId ?? params.courseId ?? ''} />
      {shown.price && shown.me.studio ? (
        <Reckoned key={shown.price.courseId} price={shown.price} studio={shown.me.studio} />
      ) : (
        <NotYet shown={shown} />
      )}
    </Frame>
  );
}

function Choice({ courses, chosen }: { courses: Schemas['CourseDates'][]; chosen: string }) {
  const { route } = useLocation();
  if (courses.length < 2) return null;
  return (
    <label class="field choice">
      <span>Course</span>
      <select value={chosen} onChange={(event) => route(`/price/${event.currentTarget.value}`)}>
        {courses.map(({ id, title }) => (
          <option key={id} value={id}>
            {title}
          </option>
        ))}
      </select>
    </label>
  );
}

function NotYet({ shown }: { shown: Extract<Shown, { at: 'there' }> }) {
  if (shown.because) return <Fault>{shown.because}</Fault>;
  return (
    <p class="answer">
      No course is coming. Plan one through the API: <a href="/docs">/docs</a> shows how, under courses.
    </p>
  );
}

function Reckoned({ price, studio }: { price: Schemas['CoursePrice']; studio: NonNullable<Schemas['Me']['studio']> }) {
  const [wanted, setWanted] = useState<WhatIf>(() => today(price.inputs));
  const reckoning = useMemo(() => reckon(price.inputs, wanted), [price, wanted]);
  const money = useMemo(() => moneyIn(studio), [studio]);
  const fairMinor = 'refusal' in reckoning ? price.result.fairPriceMinor : reckoning.result.fairPriceMinor;
  return (
    <>
      {'refusal' in reckoning ? (
        <Fault>{reckoning.refusal}</Fault>
      ) : (
        <Answer price={price} reckoning={reckoning} money={money} />
      )}
      <div class="bench">
        <div>
          {'refusal' in reckoning || (
            <>
              <section>
                <h2>
                  The prices <span>in order, to scale</span>
                </h2>
                <PriceRule sold={price.priceMinor} reckoning={reckoning} money={money} />
              </section>
              <section>
                <h2>
                  What is left over <span>at {money(reckoning.askedMinor)} a place</span>
                </h2>
                <Ladder reckoning={reckoning} money={money} />
              </section>
              <Rungs reckoning={reckoning} money={money} />
            </>
          )}
        </div>
        <div>
          <TryOut {...{ inputs: price.inputs, fairMinor, wanted, money }} onChange={setWanted} />
          <Keep courseId={price.courseId} />
        </div>
      </div>
      {'refusal' in reckoning || <Lines reckoning={reckoning} money={money} />}
    </>
  );
}

function Keep({ courseId }: { courseId: string }) {
  const [said, setSaid] = useState<{ kept: boolean; words: string } | null>(null);
  useEffect(() => setSaid(null), [courseId]);
  const keep = async () => {
    try {
      await api.POST('/api/courses/{courseId}/price-quotes', { params: { path: { courseId } } });
      setSaid({ kept: true, words: 'Kept, with today’s figures and all that they came from.' });
    } catch (error) {
      setSaid({ kept: false, words: error instanceof Refused ? error.message : String(error) });
    }
  };
  return (
    <p>
      <button type="button" onClick={keep}>
        Keep today’s reckoning
      </button>
      <span
        role="status"
        class={said?.kept ? 'done' : said ? 'fault' : ''}
        style={said ? 'display:block;margin-top:8px' : ''}
      >
        {said?.words}
      </span>
    </p>
  );
}
