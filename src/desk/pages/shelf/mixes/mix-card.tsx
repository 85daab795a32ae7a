import { useCallback, useState } from 'preact/hooks';
import { api } from '../../../api/client';
import { useOpened } from '../../../api/query';
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
  onDone(said: string): void;
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

type RecipeProps = Pick<Props, 'materials' | 'formatter' | 'onDone'> & { mix: Mix };

function NewVersion(props: RecipeProps) {
  const [isOpen, setOpen] = useState(false);
  if (isOpen) return <OpenedRecipe {...props} onLeave={() => setOpen(false)} />;
  return (
    <button type="button" class="quiet" onClick={() => setOpen(true)}>
      Change the recipe
    </button>
  );
}

/** The recipe as it was when its form was opened: another's change since then is not written over. */
function OpenedRecipe({ mix, materials, formatter, onDone, onLeave }: RecipeProps & { onLeave(): void }) {
  const read = useCallback(() => openMix(mix.id), [mix.id]);
  const { opened, error } = useOpened({ key: ['mix', mix.id], read });
  if (!opened) return error ? <ErrorMessage>{error.message}</ErrorMessage> : <p class="quiet">Reading the recipe.</p>;
  const params = { path: { mixId: mix.id } };
  return (
    <RecipeForm
      {...{ mix: opened.mix, materials, formatter }}
      save={(_, body, headers) =>
        api.PUT('/api/mixes/{mixId}', { params, body, headers: { ...headers, 'if-match': opened.etag } })
      }
      onSaved={() => onDone(`${mix.product.name} has a new version. Batches keep the one they were made by.`)}
      onLeave={onLeave}
    />
  );
}

async function openMix(mixId: string): Promise<{ mix: Mix; etag: string }> {
  const { data, response } = await api.GET('/api/mixes/{mixId}', { params: { path: { mixId } } });
  if (!data) throw new Error('The recipe could not be loaded. Load the page again.');
  return { mix: data, etag: response.headers.get('etag') ?? '' };
}
