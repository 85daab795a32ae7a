import type { ComponentChildren } from 'preact';
import { useCallback } from 'preact/hooks';
import { Refused, signInFirst } from '../api/client';
import { useQuery } from '../api/query';
import { useMutation } from '../api/use-mutation';
import { ErrorMessage } from '../forms/error-message';
import { useSettled } from '../ui/use-settled';
import { type Letter, LettersPreview } from './letters-preview';

type Seen<T> = { outcome: T; letters: Letter[] };
type Props<W, T> = {
  /** what it is, which tells its previews from others */
  name: string;
  /** what is asked for; null while something is missing or can't be read */
  wish: W | null;
  ask(wish: W, signal: AbortSignal): Promise<{ data?: Seen<T> }>;
  send(wish: W, headers: { 'idempotency-key': string }): Promise<{ data?: T }>;
  /** on the button, by what would happen: "Send 3 notices"; null where there is nothing to do */
  save(seen: Seen<T>): string | null;
  onDone(outcome: T): void;
  onCancel(): void;
  /** Where it was refused for a reason that the owner may overrule: the way to do so, by the refusal's type. */
  overrule?(type: string): ComponentChildren;
  /** what would happen */
  children(outcome: T): ComponentChildren;
};

/** Something that moves money or goes out to people: what it would do and every letter of it are seen before the button does it. */
export function PreviewedAction<W, T>({ name, wish, ask, send, save, onDone, onCancel, ...shows }: Props<W, T>) {
  const { overrule, children } = shows;
  const settled = useSettled(wish);
  const read = useCallback(
    async (signal: AbortSignal) => {
      const { data } = await ask(settled as W, signal);
      if (!data) throw new Refused('unknown', 'What this would do could not be worked out. Try again.');
      return data;
    },
    [JSON.stringify(settled)],
  );
  const key = ['preview', name, JSON.stringify(settled)];
  const { data: seen, error, waiting } = useQuery({ key, read, enabled: settled !== null, fresh: true, keep: true });
  const mutation = useMutation();
  if (error && signInFirst(error)) return null;
  const isCurrent = !waiting && JSON.stringify(settled) === JSON.stringify(wish);
  const label = seen && !error ? save(seen) : null;
  const act = async () => {
    if (!isCurrent || wish === null) return;
    let done: T | undefined;
    const ok = await mutation.run(wish, async (headers) => {
      done = (await send(wish, headers)).data;
    });
    if (ok && done !== undefined) onDone(done);
  };
  return (
    <div aria-busy={waiting && wish !== null && !error}>
      {error && wish !== null ? (
        <>
          <ErrorMessage>{error.message}</ErrorMessage>
          {error instanceof Refused && overrule?.(error.type)}
        </>
      ) : (
        seen && children(seen.outcome)
      )}
      {seen && !error && <LettersPreview letters={seen.letters} />}
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
      {label && (
        <p class="acts">
          <button type="button" aria-disabled={!isCurrent || mutation.busy} onClick={act}>
            {label}
          </button>
          <button type="button" class="quiet" onClick={onCancel}>
            Cancel
          </button>
        </p>
      )}
    </div>
  );
}
