import { useState } from 'preact/hooks';
import { signInFirst } from './client';
import { useIdempotencyKey } from './idempotency-key';
import { refetchAll } from './query';

type Headers = { 'idempotency-key': string };

/**
 * What a button changes: once for one wish, however often it is pressed, and what came in its way. All that is shown is then read
 * again, so no page needs to ask for itself. What only reads is a query.
 */
export function useMutation() {
  const [error, setError] = useState('');
  const [busy, setBusy] = useState(false);
  const key = useIdempotencyKey();
  /** @returns whether it was done, once what is shown was read again */
  const run = async (wish: unknown, work: (headers: Headers) => Promise<unknown>): Promise<boolean> => {
    if (busy) return false;
    setBusy(true);
    setError('');
    try {
      await work(key.headersFor(wish));
      key.answered();
      await refetchAll(); // whoever then says that it is done shows it too
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
