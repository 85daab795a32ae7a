import { api } from '../api/client';
import { further, type Headers } from '../api/idempotency-key';
import { useMutation } from '../api/use-mutation';
import { ErrorMessage } from '../forms/error-message';
import { toast } from '../ui/toast';
import { type Assumption, listAssumptions } from './assumptions';
import type { Basic, Context } from './basic';

type Props<T> = { basic: Basic<T>; item: T; context: Context; onRemoved(): void };

/**
 * Removes it at a press, and offers to undo that: nothing refers to what the API removes, so the same content entered again is all
 * there was. What is in use stays, and why is said here.
 */
export function BasicRemoval<T extends { id: string; name: string }>({ basic, item, context, onRemoved }: Props<T>) {
  const { run, busy, error } = useMutation({ thenRead: true });
  const { remove, one } = basic;
  if (!remove) return null;
  const { id, name } = item;
  const press = async () => {
    let notes: Assumption[] = [];
    const isGone = await run(id, async (headers) => {
      notes = (await listAssumptions()).filter(({ subjectId }) => subjectId === id); // removed along with it
      await remove(id, headers);
    });
    if (!isGone) return;
    onRemoved();
    const work = (headers: Headers) => addAgain(basic, item, notes, headers, context);
    toast(<span>“{name}” is removed.</span>, { work, undone: `“${name}” is back.` });
  };
  return (
    <>
      {error && <ErrorMessage>{error}</ErrorMessage>}
      <p class="acts">
        <button type="button" class="quiet" aria-disabled={busy} onClick={press}>
          Remove this {one}
        </button>
      </p>
    </>
  );
}

/** Under another id, since the first is gone; with the notes on which of its figures were assumed. */
async function addAgain<T extends { id: string }>(
  basic: Basic<T>,
  item: T,
  notes: readonly Assumption[],
  headers: Headers,
  context: Context,
) {
  const added = await basic.add(basic.valuesOf(item, context), headers, context);
  for (const [i, { kind, figures }] of notes.entries()) {
    const body = { kind, figures, subjectId: added.item.id };
    await api.POST('/api/assumptions', { body, headers: further(headers, i + 1) });
  }
}
