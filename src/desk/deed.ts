import { useState } from 'preact/hooks';
import { signInFirst } from './client';
import { useOneKey } from './one-key';

type Headers = { 'idempotency-key': string };

/** One thing that a button does: once for one wish, however often it is pressed, and what came in its way. */
export function useDeed() {
  const [because, setBecause] = useState('');
  const [busy, setBusy] = useState(false);
  const key = useOneKey();
  /** @returns whether it was done */
  const run = async (wish: unknown, work: (headers: Headers) => Promise<unknown>): Promise<boolean> => {
    if (busy) return false;
    setBusy(true);
    setBecause('');
    try {
      await work(key.headersFor(wish));
      key.answered();
      return true;
    } catch (error) {
      if (!signInFirst(error)) setBecause((error as Error).message);
      return false;
    } finally {
      setBusy(false);
    }
  };
  return { run, busy, because, refuse: setBecause };
}
