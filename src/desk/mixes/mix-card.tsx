import { useState } from 'preact/hooks';
import { api } from '../client';
import { useDeed } from '../deed';
import { Fault } from '../entry/field';
import type { Tell } from '../tell';
import { Bar } from './bar';
import { Batches } from './batches';
import { MakeBatch } from './make-batch';
import type { Kept, Material, Mix } from './read';
import { RecipeForm } from './recipe-form';
import { meaningOf, on, placeOf } from './words';

type Props = { kept: Kept; materials: Material[]; today: string; tell: Tell; onDone(said: string): Promise<void> };

/** A mix: what it is made of, what a batch of it weighs, and what was made. */
export function MixCard({ kept, materials, today, tell, onDone }: Props) {
  const { mix, costs } = kept;
  const since = on(tell.dayOf(mix.since), today, tell);
  return (
    <section id={placeOf(mix)} class="mix">
      <h2>
        {mix.product.name}{' '}
        <span>
          version {mix.version}, written {since}
        </span>
      </h2>
      <Bar name={mix.product.name} parts={mix.parts} tell={tell} />
      <p>{meaningOf(mix, tell)}</p>
      <MakeBatch {...{ mix, costs, tell, onDone }} />
      <Batches {...{ kept, today, tell, onDone }} />
      <NewVersion {...{ mix, materials, tell, onDone }} />
    </section>
  );
}

/** The recipe as it was when its form was opened: another's change since then is not written over. */
type Opened = { mix: Mix; etag: string };

function NewVersion({ mix, materials, tell, onDone }: Pick<Props, 'materials' | 'tell' | 'onDone'> & { mix: Mix }) {
  const [opened, setOpened] = useState<Opened | null>(null);
  const deed = useDeed();
  const params = { path: { mixId: mix.id } };
  const open = () =>
    deed.run('open', async () => {
      const { data, response } = await api.GET('/api/mixes/{mixId}', { params });
      if (data) setOpened({ mix: data, etag: response.headers.get('etag') ?? '' });
    });
  if (!opened)
    return (
      <>
        {deed.because && <Fault>{deed.because}</Fault>}
        <button type="button" class="quiet" onClick={open} aria-disabled={deed.busy}>
          Change the recipe
        </button>
      </>
    );
  return (
    <RecipeForm
      {...{ mix: opened.mix, materials, tell }}
      save={(_, body, headers) =>
        api.PUT('/api/mixes/{mixId}', { params, body, headers: { ...headers, 'if-match': opened.etag } })
      }
      onSaved={() => onDone(`${mix.product.name} has a new version. Batches keep the one they were made by.`)}
      onLeave={() => setOpened(null)}
    />
  );
}
