import type { ComponentChildren } from 'preact';
import { signInFirst } from '../api/client';
import { ErrorMessage } from '../forms/error-message';

type Props<T> = {
  /** in the middle of a sentence: "what is ready" */
  what: string;
  query: { data: T | undefined; error: Error | null };
  children(found: T): ComponentChildren;
};

/** What a dialog must know before it can ask: it says so while it reads, and what came in the way. */
export function LookedUp<T>({ what, query: { data, error }, children }: Props<T>) {
  if (error && signInFirst(error)) return null;
  if (error) return <ErrorMessage>{error.message}</ErrorMessage>;
  if (data === undefined) return <p aria-busy="true">Looking up {what}…</p>;
  return <>{children(data)}</>;
}
