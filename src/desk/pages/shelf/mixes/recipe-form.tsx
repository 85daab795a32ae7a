import { useState } from 'preact/hooks';
import { validateRecipe } from '../../../../trade/materials/mix-validation.js';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { Parts } from './ingredient-fields';
import type { Material, Mix } from './queries';
import { bodyOf, type Line, partsOf, type RecipeBody, starting } from './recipe';
import { Bar } from './stacked-bar';

type Props = {
  /** null: a mix that is said for the first time */
  mix: Mix | null;
  materials: readonly Material[];
  formatter: Formatter;
  save(productId: string, body: RecipeBody, headers: { 'idempotency-key': string }): Promise<unknown>;
  onSaved(): void;
  onLeave(): void;
};

/** A recipe to fill in; what can't be mixed says so while it is written. */
export function RecipeForm({ mix, materials, formatter, save, onSaved, onLeave }: Props) {
  const [lines, setLines] = useState<Line[]>(starting(mix));
  const [productId, setProductId] = useState(mix?.product.id ?? '');
  const [inPercent, setInPercent] = useState(mix?.inPercent ?? false);
  const deed = useMutation({ thenRead: true });
  const mixable = materials.filter(({ unit }) => unit !== 'piece');
  const product = materials.find(({ id }) => id === productId);
  const parts = partsOf(lines, materials);
  const faults = product ? validateRecipe({ litreGrams: null, solidsDensity: null, inPercent, product, parts }) : [];
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    if (!product) return deed.refuse('Choose which of your materials it is that you mix.');
    const body = bodyOf(new FormData(event.currentTarget as HTMLFormElement), parts, inPercent);
    if (await deed.run([productId, body], (headers) => save(productId, body, headers))) onSaved();
  };
  const choices = [['', 'Choose'], ...mixable.map(({ id, name }) => [id, name] as const)] as const;
  return (
    <form class="raised" onSubmit={submit}>
      {!mix && (
        <Field
          label="Which of your materials do you mix?"
          value={productId}
          choices={choices}
          onChange={setProductId}
          required
        />
      )}
      {parts.length > 0 && <Bar name={product?.name ?? 'The mix'} parts={parts} formatter={formatter} />}
      <Parts {...{ lines, inPercent, choices }} onLines={setLines} onPercent={setInPercent} />
      <Rest mix={mix} product={product} />
      {faults.map(({ at, detail }) => (
        <p key={at} class="amber" role="status">
          {nameOf(at, parts, product?.name)} {detail}.
        </p>
      ))}
      {deed.error && <ErrorMessage>{deed.error}</ErrorMessage>}
      <p class="acts">
        <button type="submit" aria-disabled={deed.busy}>
          {mix ? 'Keep as a new version' : 'Keep this mix'}
        </button>
        <button type="button" class="quiet" onClick={onLeave}>
          Cancel
        </button>
      </p>
    </form>
  );
}

const nameOf = (at: string, parts: readonly { name: string }[], product = 'It') =>
  at.startsWith('parts/') ? (parts[Number(at.split('/')[1])]?.name ?? '') : at === 'parts' ? 'The parts' : product;

/** How the weights are meant, and what a litre shall weigh where nothing says it yet. */
function Rest({ mix, product }: { mix: Mix | null; product: Material | undefined }) {
  const isPowder = product?.unit === 'g' && product.waterPercent === null;
  return (
    <div class="pairs">
      <Field
        label="The weights are of"
        name="weights"
        value={mix?.weights ?? 'dry'}
        choices={[
          ['dry', 'dry matter'],
          ['wet', 'materials as weighed (damp)'],
        ]}
        required
      />
      {isPowder && (
        <Field
          label="Litre weight to aim for, in g"
          name="litreGrams"
          figures
          value={String(mix?.litreGrams ?? '')}
          hint="Once water is on it; leave empty for a powder."
        />
      )}
      <Field
        label="Density of the dry matter"
        name="solidsDensity"
        figures
        value={mix?.solidsDensity ?? ''}
        hint="Relative to water; empty: 2.6 is assumed."
      />
      <Field label="Notes" name="note" value={mix?.note ?? ''} />
    </div>
  );
}
