import { useEffect, useRef, useState } from 'preact/hooks';
import type { Headers } from '../api/idempotency-key';
import { useMutation } from '../api/use-mutation';
import { ErrorMessage } from '../forms/error-message';

type Props = {
  /** in the middle of a sentence: "room" */
  one: string;
  item: { id: string; name: string };
  remove(id: string, headers: Headers): Promise<unknown>;
  onRemoved(): void;
};

/** Asks first, by the name of what would go. What is in use stays, and why is said here. */
export function BasicRemoval({ one, item: { id, name }, remove, onRemoved }: Props) {
  const [isAsked, setAsked] = useState(false);
  const { run, busy, error } = useMutation({ thenRead: true });
  const question = useRef<HTMLParagraphElement>(null);
  const asking = useRef<HTMLButtonElement>(null);
  const wasAsked = useRef(false);
  useEffect(() => {
    if (isAsked)
      question.current?.focus(); // the button that was pressed is gone
    else if (wasAsked.current) asking.current?.focus();
    wasAsked.current = isAsked;
  }, [isAsked]);
  if (!isAsked)
    return (
      <button type="button" class="quiet" ref={asking} onClick={() => setAsked(true)}>
        Remove this {one}
      </button>
    );
  const confirm = async () => {
    if (await run(id, (headers) => remove(id, headers))) onRemoved();
  };
  return (
    <>
      <p tabIndex={-1} ref={question}>
        Remove the {one} “{name}”? That can’t be undone.
      </p>
      {error && <ErrorMessage>{error}</ErrorMessage>}
      <p class="acts">
        <button type="button" aria-disabled={busy} onClick={confirm}>
          Remove “{name}”
        </button>
        <button type="button" class="quiet" onClick={() => setAsked(false)}>
          Cancel
        </button>
      </p>
    </>
  );
}
