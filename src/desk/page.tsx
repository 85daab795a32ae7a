import type { ComponentChildren } from 'preact';
import { useCallback, useEffect, useState } from 'preact/hooks';
import { api, type Schemas, signInFirst } from './client';
import { Fault } from './entry/field';
import { Frame } from './frame';
import { Heading } from './heading';
import { type Tell, tellIn } from './tell';
import { useTitle } from './title';

type Me = Schemas['Me'];

/** What a page knows besides its own answer: who asks, how the studio writes, and how to ask again. */
export type At = { me: Me; tell: Tell; again(): Promise<void> };

type Props<T> = {
  question: string;
  /** The question as it is asked of this person, where that says more. */
  asked?(me: Me, tell: Tell): string;
  /** Asks the API; it must be the same function at every rendering, or the page asks without end. */
  read(me: Me): Promise<T>;
  children(answer: T, at: At): ComponentChildren;
};

/** A page of the desk that asks the API one thing: it says so while it reads, and what to do where that failed. */
export function Page<T>({ question, asked, read, children }: Props<T>) {
  const [me, setMe] = useState<Me | null>(null);
  const [answer, setAnswer] = useState<{ is: T } | null>(null);
  const [because, setBecause] = useState('');
  useTitle(question);
  const again = useCallback(async () => {
    try {
      const known = await whoIsHere();
      if (!known) return;
      setMe(known);
      setAnswer({ is: await read(known) });
      setBecause('');
    } catch (error) {
      if (!signInFirst(error)) setBecause((error as Error).message);
    }
  }, [read]);
  useEffect(() => void again(), [again]);
  const body = (
    <>
      {because && (
        <>
          <Fault>{because}</Fault>
          <button type="button" class="quiet" onClick={again}>
            Try again
          </button>
        </>
      )}
      {me?.studio && answer && children(answer.is, { me, tell: tellIn({ ...me.studio, today: me.today }), again })}
    </>
  );
  if (me)
    return (
      <Frame
        me={me}
        question={asked && me.studio ? asked(me, tellIn({ ...me.studio, today: me.today })) : question}
        busy={!answer && !because}
      >
        {body}
      </Frame>
    );
  return (
    <main aria-busy={!because}>
      <Heading>{question}</Heading>
      {body}
    </main>
  );
}

/** Whoever is signed in; a studio that was never entered is asked for first. */
async function whoIsHere(): Promise<Me | null> {
  const { data: me } = await api.GET('/api/me');
  if (!me) throw new Error('The server does not say who is signed in. Load the page again.');
  if (me.studio) return me;
  location.assign('/studio');
  return null;
}
