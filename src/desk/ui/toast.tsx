import './styles/toast.css';
import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';

let current: { said: ComponentChildren } | null = null;
const listeners = new Set<(now: typeof current) => void>();

function show(next: typeof current): void {
  current = next;
  for (const listener of listeners) listener(next);
}

/** Says what was just done, with the way to undo it; it stays until it is closed, another takes its place, or the page is left. */
export const toast = (said: ComponentChildren): void => show({ said });

/** Where that is said: at the lower edge, and read out by whoever hears the page. */
export function Toasts() {
  const [shown, setShown] = useState(current);
  useEffect(() => {
    listeners.add(setShown);
    return () => {
      listeners.delete(setShown);
      current = null;
    };
  }, []);
  return (
    <div class="toasts no-paper" aria-live="polite">
      {shown && (
        <div class="toast">
          <div>{shown.said}</div>
          <button type="button" class="quiet" onClick={() => show(null)}>
            Close
          </button>
        </div>
      )}
    </div>
  );
}
