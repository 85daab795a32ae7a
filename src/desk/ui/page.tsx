import type { ComponentChildren } from 'preact';
import { useCallback } from 'preact/hooks';
import { signInFirst } from '../api/client';
import { useQuery } from '../api/query';
import { getMe, type Me, useMe } from '../api/use-me';
import { type Formatter, formatterFor } from '../format/formatter';
import { ErrorMessage } from '../forms/error-message';
import { Heading } from './heading';
import { Layout } from './layout';
import { useTitle } from './use-title';

/** What a page knows besides its own answer: who asks, how the studio writes, and how to ask again. */
export type At = { me: Me; formatter: Formatter; again(): Promise<void> };

type Props<F, T> = {
  /** the heading: two to four words, or a question */
  question: string;
  /** The heading as it is for this person, where that says more. */
  asked?(me: Me, formatter: Formatter): string;
  /** The heading once the answer is there: for a page of one thing, its name. */
  headed?(answer: T): string;
  /** The pages beside this one under the same noun, shown above what is read. */
  tabs?(me: Me): ComponentChildren;
  /**
   * Asks the API; it must be the same function at every rendering, or the page asks without end. Without it the answer is that of
   * `first`. A page that is one list has neither: the list asks for itself.
   */
  read?(me: Me, signal: AbortSignal, first: F): Promise<T>;
  /**
   * Asks for what `read` builds on and needs nothing of who is signed in: it goes out with the question who that is, so the page waits
   * for a round of requests less.
   */
  first?(signal: AbortSignal): Promise<F>;
  /** What stands after the address's ? belongs to a list on the page: what the page itself read stays while that is searched. */
  searches?: boolean;
  /** While another address of the same page is read, what the one before showed stays. */
  keep?: boolean;
  /** Shows nothing that was read before: for what is edited. */
  fresh?: boolean;
  children(answer: T, at: At): ComponentChildren;
};

/** A page of the desk that asks the API one thing: it says so while it reads, and what to do where that failed. */
export function Page<F = undefined, T = F>({
  question,
  asked,
  headed,
  tabs,
  read,
  first,
  children,
  ...how
}: Props<F, T>) {
  const { searches = false, fresh = false, keep = false } = how;
  const { data: me, error: notMe, refetch: meAgain } = useMe();
  const readIt = useCallback(
    async (signal: AbortSignal) => {
      const [who, found] = await Promise.all([getMe(), first?.(signal)]);
      return read ? read(who, signal, found as F) : ((found ?? null) as T);
    },
    [read, first],
  );
  const enabled = first !== undefined || me?.studio != null;
  const key = ['page', question, location.pathname, searches ? '' : location.search];
  const { data: answer, error: notRead, waiting, refetch } = useQuery({ key, read: readIt, enabled, fresh, keep });
  const heading = headed && answer !== undefined ? headed(answer) : question;
  useTitle(heading);
  const error = notMe ?? notRead;
  if (error && signInFirst(error)) return null;
  if (me && !me.studio) {
    location.assign('/studio'); // a studio that was never entered is asked for first
    return null;
  }
  const formatter = me?.studio && formatterFor({ ...me.studio, today: me.today });
  const body = (
    <>
      {error && (
        <>
          <ErrorMessage>{error.message}</ErrorMessage>
          <button type="button" class="quiet" onClick={() => (notMe ? meAgain() : refetch())}>
            Try again
          </button>
        </>
      )}
      {me && formatter && answer !== undefined && children(answer, { me, formatter, again: refetch })}
    </>
  );
  if (me && formatter)
    return (
      <Layout me={me} question={asked ? asked(me, formatter) : heading} busy={waiting && !error}>
        {tabs?.(me)}
        {body}
      </Layout>
    );
  return (
    <main aria-busy={!error}>
      <Heading>{heading}</Heading>
      {body}
    </main>
  );
}
