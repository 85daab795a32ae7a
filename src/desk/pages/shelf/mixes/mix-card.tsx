import { useState } from 'preact/hooks';
import { api } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { MakeBatch } from './batch-form';
import { Batches } from './batches';
import { meaningOf, on, placeOf } from './labels';
import type { Kept, Material, Mix } from './queries';
import { RecipeForm } from './recipe-form';
import { Bar } from './stacked-bar';

type Props = {
  kept: Kept;
  materials: Material[];
  today: string;
  formatter: Formatter;
  onDone(said: string): Promise<void>;
};

/** A mix: what it is made of, what a batch of it weighs, and what was made. */
export function MixCard({ kept, materials, today, formatter, onDone }: Props) {
  const { mix, costs } = kept;
  const since = on(formatter.dayOf(mix.since), today, formatter);
  return (
    <section id={placeOf(mix)} class="mix">
      <h2>
        {mix.product.name}{' '}
        <span>
          version {mix.version}, written {since}
        </span>
      </h2>
      <Bar name={mix.product.name} parts={mix.parts} formatter={formatter} />
      <p>{meaningOf(mix, formatter)}</p>
      <MakeBatch {...{ mix, costs, formatter, onDone }} />
      <Batches {...{ kept, today, formatter, onDone }} />
      <NewVersion {...{ mix, materials, formatter, onDone }} />
    </section>
  );
}

/** The recipe as it was when its form was opened: another's change since then is not written over. */
type Opened = { mix: Mix; etag: string };

function NewVersion({
  mix,
  materials,
  formatter,
  onDone,
}: Pick<Props, 'materials' | 'formatter' | 'onDone'> & { mix: Mix }) {
  const [opened, setOpened] = useState<Opened | null>(null);
  const deed = useMutation();
  const params = { path: { mixId: mix.id } };
  const open = () =>
    deed.run('open', async () => {
      const { data, response } = await api.GET('/api/mixes/{mixId}', { params });
      if (data) setOpened({ mix: data, etag: response.headers.get('etag') ?? '' });
    });
  if (!opened)
    return (
      <>
        {deed.error && <ErrorMessage>{deed.error}</ErrorMessage>}
        <button type="button" class="quiet" onClick={open} aria-disabled={deed.busy}>
          Change the recipe
        </button>
      </>
    );
  return (
    <RecipeForm
      {...{ mix: opened.mix, materials, formatter }}
      save={(_, body, headers) =>
        api.PUT('/api/mixes/{mixId}', { params, body, headers: { ...headers, 'if-match': opened.etag } })
      }
      onSaved={() => onDone(`${mix.product.name} has a new version. Batches keep the one they were made by.`)}
      onLeave={() => setOpened(null)}
    />
  );
}
