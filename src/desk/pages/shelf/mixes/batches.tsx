import { useState } from 'preact/hooks';
import { api } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import { capital, count, type Formatter } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { exact, left, on } from './labels';
import { litreMeasured } from './litre-weight';
import type { Batch, Kept } from './queries';

type Props = { kept: Kept; today: string; formatter: Formatter; onDone(said: string): void };

/** What was made of a mix, the newest first, each as it was weighed out then. */
export function Batches({ kept: { mix, batches, costs }, today, formatter, onDone }: Props) {
  if (batches.length === 0) return <p class="quiet">No batch was made yet.</p>;
  const costOf = (id: string) => costs?.batches.find(({ batchId }) => batchId === id)?.costMinor;
  return (
    <details>
      <summary>
        {capital(count(batches.length, 'batch', 'batches'))} made, the last{' '}
        {on(batches[0]?.madeOn ?? today, today, formatter)}
      </summary>
      <ul class="batches" aria-label={`Batches of ${mix.product.name}`}>
        {batches.map((batch) => (
          <One key={batch.id} {...{ batch, today, formatter, onDone }} costMinor={costOf(batch.id)} />
        ))}
      </ul>
    </details>
  );
}

type OneProps = Omit<Props, 'kept'> & { batch: Batch; costMinor: number | undefined };

function One({ batch, costMinor, today, formatter, onDone }: OneProps) {
  const [taking, setTaking] = useState(false);
  const { number, quantity, unit, madeOn, version, parts, undoing, note } = batch;
  const uncounted = undoing ? [] : parts.filter(({ asksForCount }) => asksForCount);
  return (
    <li>
      <b>Batch {number}</b>, {formatQuantity(quantity, unit, formatter)} {on(madeOn, today, formatter)},{' '}
      <span class={undoing ? 'quiet' : batch.left > 0 ? 'celadon' : 'quiet'}>{left(batch, formatter)}</span>
      {costMinor !== undefined && !undoing && <> · {formatter.money(costMinor)}</>}
      <br />
      <small>
        By version {version}: {parts.map((part) => `${part.name} ${exact(part.weighGrams, formatter)}`).join(', ')}.
        {litreMeasured(batch, formatter)}
        {note && ` ${note}.`}
        {undoing && ` Taken back: ${undoing.note}.`}
      </small>
      {uncounted.length > 0 && (
        <p class="amber">Count {uncounted.map(({ name }) => name).join(' and ')}: more was used than was recorded.</p>
      )}
      {!undoing && (
        <p class="acts no-paper">
          <a href={`/api/mix-batches/${batch.id}/labels.pdf`} target="_blank" rel="noopener">
            A label for its bucket
          </a>
          {batch.left === quantity && !taking && (
            <button type="button" class="quiet" onClick={() => setTaking(true)}>
              Take batch {number} back
            </button>
          )}
        </p>
      )}
      {taking && <TakeBack {...{ batch, onDone }} onLeave={() => setTaking(false)} />}
    </li>
  );
}

type TakeBackProps = Pick<OneProps, 'batch' | 'onDone'> & { onLeave(): void };

function TakeBack({ batch: { id: batchId, number }, onDone, onLeave }: TakeBackProps) {
  const deed = useMutation({ thenRead: true });
  const take = async (event: SubmitEvent) => {
    event.preventDefault();
    const note = String(new FormData(event.currentTarget as HTMLFormElement).get('note'));
    const params = { path: { batchId } };
    const body = { note };
    if (
      await deed.run([batchId, note], (headers) =>
        api.POST('/api/mix-batches/{batchId}/undoing', { params, headers, body }),
      )
    )
      onDone(`Batch ${number} is taken back: what it had drawn is on the shelf again.`);
  };
  return (
    <form class="raised" onSubmit={take}>
      <Field
        label="Why is it taken back?"
        name="note"
        hint="Only what was entered by mistake; its parts go back at what they cost."
        required
      />
      {deed.error && <ErrorMessage>{deed.error}</ErrorMessage>}
      <p class="acts">
        <button type="submit" aria-disabled={deed.busy}>
          Take it back
        </button>
        <button type="button" class="quiet" onClick={onLeave}>
          Cancel
        </button>
      </p>
    </form>
  );
}
