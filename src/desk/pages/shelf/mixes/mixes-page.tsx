import '../../../ui/styles/raised.css';
import './mixes.css';
import { useEffect, useRef, useState } from 'preact/hooks';
import { api } from '../../../api/client';
import { Phrases } from '../../../format/phrases';
import { type At, Page } from '../../../ui/page';
import { ShelfTabs } from '../shelf-tabs';
import { answerOf } from './labels';
import { MixCard } from './mix-card';
import { type Mixing, readMixing, readRecipes } from './queries';
import { RecipeForm } from './recipe-form';

/** What is mixed here, and from what? */
export function MixesPage() {
  return (
    <Page question="Mixes" tabs={(me) => <ShelfTabs me={me} />} first={readRecipes} read={readMixing}>
      {(mixing, at) => (
        <>
          <Mixes mixing={mixing} {...at} />
        </>
      )}
    </Page>
  );
}

function Mixes({ mixing: { kept, materials }, me: { today }, formatter }: At & { mixing: Mixing }) {
  const [said, setSaid] = useState('');
  const [adding, setAdding] = useState(false);
  const [round, setRound] = useState(0);
  const here = useRef<HTMLParagraphElement>(null);
  useEffect(() => {
    if (said) here.current?.focus(); // the button that was pressed may be gone
  }, [said, round]);
  const done = (what: string) => {
    setAdding(false);
    setSaid(what);
    setRound(round + 1);
  };
  const mixed = new Set(kept.map(({ mix }) => mix.product.id));
  return (
    <>
      <p class="answer">
        <Phrases of={answerOf(kept, today, formatter)} />
      </p>
      {said && (
        <p class="done" role="status" tabIndex={-1} ref={here}>
          {said}
        </p>
      )}
      {kept.map((one) => (
        <MixCard
          key={`${one.mix.id} ${one.mix.version}`}
          {...{ kept: one, materials, today, formatter }}
          onDone={done}
        />
      ))}
      {adding ? (
        <section>
          <h2>Another mix</h2>
          <RecipeForm
            {...{ mix: null, formatter }}
            materials={materials.filter(({ id }) => !mixed.has(id)).concat(materials.filter(({ id }) => mixed.has(id)))}
            save={(productId, body, headers) => api.POST('/api/mixes', { body: { productId, ...body }, headers })}
            onSaved={() => done('The mix is kept: say how much of it to make.')}
            onLeave={() => setAdding(false)}
          />
        </section>
      ) : (
        <button type="button" onClick={() => setAdding(true)}>
          Write down another mix
        </button>
      )}
    </>
  );
}
