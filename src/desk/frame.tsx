import type { ComponentChildren } from 'preact';
import { api, type Schemas } from './client';

type Props = { me: Schemas['Me']; question: string; children: ComponentChildren };

/** A page of the desk: a line of words, one question, and what answers it. */
export function Frame({ me, question, children }: Props) {
  const leave = async () => {
    await api.POST('/api/sign-out');
    location.assign('/sign-in');
  };
  return (
    <>
      <a class="skip" href="#answer">
        To the answer
      </a>
      <header class="words">
        <b>{me.studio?.name ?? 'Wareboard'}</b>
        <nav aria-label="Pages">
          <a href="/" aria-current="page">
            Price
          </a>
        </nav>
        <button type="button" class="quiet" onClick={leave}>
          Sign out {me.name}
        </button>
      </header>
      <main id="answer" tabIndex={-1}>
        <h1>{question}</h1>
        {children}
      </main>
    </>
  );
}
