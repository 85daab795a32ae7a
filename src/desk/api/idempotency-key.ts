import { useRef } from 'preact/hooks';

export type Headers = { 'idempotency-key': string };

/** The key of a further request of one wish: sent again, each is still done once. */
export const further = (headers: Headers, i: number): Headers => ({
  'idempotency-key': headers['idempotency-key'].replace(/"$/, ` ${i}"`),
});

/**
 * One key for one filled form: a double click, or another try after the line broke, sends the same key and is done once.
 * Another filling is another request, and so is the same one after it was answered.
 */
export function useIdempotencyKey() {
  const kept = useRef({ filled: '', key: '' });
  return {
    headersFor(body: unknown): Headers {
      const filled = JSON.stringify(body);
      if (kept.current.filled !== filled) kept.current = { filled, key: crypto.randomUUID() };
      return { 'idempotency-key': `"${kept.current.key}"` };
    },
    answered(): void {
      kept.current = { filled: '', key: '' };
    },
  };
}
