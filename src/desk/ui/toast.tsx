import './styles/toast.css';
import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Headers } from '../api/idempotency-key';
import { useMutation } from '../api/use-mutation';
import { ErrorMessage } from '../forms/error-message';

/** How to take back what was just done, where all of it can be: the same content is there again, and nobody was told meanwhile. */
type Undo = {
  work(headers: Headers): Promise<unknown>;
  /** what is said once it is taken back: "“Loft” is back." */
  undone: string;
};
type Shown = { said: ComponentChildren; undo?: Undo | undefined; path: string };

let current: Shown | null = null;
const listeners = new Set<(now: Shown | null) => void>();

function show(next: Shown | null): void {
  current = next;
  for (const listener of listeners) listener(next);
}

/** Says what was just done, with the way to undo it; it stays until it is closed, another takes its place, or the page is left. */
export const toast = (said: ComponentChildren, undo?: Undo): void => show({ said, undo, path: location.pathname });

/** Where that is said: at the lower edge, and read out by whoever hears the page. */
export function Toasts() {
  const [last, setShown] = useState(current);
  const shown = last?.path === location.pathname ? last : null; // the next page is there before this one goes
  const close = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    listeners.add(setShown);
    return () => {
      listeners.delete(setShown);
      current = null;
    };
  }, []);
  const undone = (said: string) => {
    toast(<span>{said}</span>);
    close.current?.focus(); // the button that was pressed is gone
  };
  return (
    <div class="toasts no-paper" aria-live="polite">
      {shown && (
        <div class="toast">
          <div>
            {shown.said}
            {shown.undo && <UndoButton undo={shown.undo} onUndone={undone} />}
          </div>
          <button type="button" class="quiet" ref={close} onClick={() => show(null)}>
            Close
          </button>
        </div>
      )}
    </div>
  );
}

type UndoProps = { undo: Undo; onUndone(said: string): void };

/** Where that fails it says why, and can be pressed again. */
function UndoButton({ undo, onUndone }: UndoProps) {
  const { run, busy, error } = useMutation();
  const back = async () => {
    if (await run(undo.undone, undo.work)) onUndone(undo.undone);
  };
  return (
    <>
      {error && <ErrorMessage>{error}</ErrorMessage>}
      <button type="button" class="quiet" aria-disabled={busy} onClick={back}>
        Undo
      </button>
    </>
  );
}
