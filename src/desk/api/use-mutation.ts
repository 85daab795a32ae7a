import { useState } from 'preact/hooks';
import { signInFirst } from './client';
import { type Headers, useIdempotencyKey } from './idempotency-key';
import { refetchAll } from './query';

type Options = {
  /**
   * Done only once what the page shows was read again: for a form on the page itself, which closes over what it changed. A dialog
   * closes at once, or what it asked would be asked again behind its back.
   */
  thenRead?: boolean;
};

/**
 * What a button changes: once for one wish, however often it is pressed, and what came in its way. All that is shown is then read
 * again, so no page needs to ask for itself. What only reads is a query.
 */
export function useMutation({ thenRead = false }: Options = {}) {
  const [error, setError] = useState('');
  const [busy, setBusy] = useState(false);
  const key = useIdempotencyKey();
  /** @returns whether it was done */
  const run = async (wish: unknown, work: (headers: Headers) => Promise<unknown>): Promise<boolean> => {
    if (busy) return false;
    setBusy(true);
    setError('');
    try {
      await work(key.headersFor(wish));
      key.answered();
      const reading = refetchAll();
      if (thenRead) await reading;
      return true;
    } catch (error) {
      if (!signInFirst(error)) setError((error as Error).message);
      return false;
    } finally {
      setBusy(false);
    }
  };
  return { run, busy, error, refuse: setError };
}
