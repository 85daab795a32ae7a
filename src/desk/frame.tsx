import type { ComponentChildren } from 'preact';
import { api, type Schemas } from './client';

type Props = { me: Schemas['Me']; question: string; narrow?: boolean; children: ComponentChildren };

/** A page of the desk: a line of words, one question, and what answers it. */
export function Frame({ me, question, narrow = false, children }: Props) {
  const leave = async () => {
    await api.POST('/api/sign-out').catch(() => undefined); // whoever is signed out already is where they want to be
    location.assign('/sign-in');
  };
  const at = location.pathname === '/studio' ? '/studio' : '/';
  return (
    <>
      <a class="skip" href="#answer">
        To the answer
      </a>
      <header class="words">
        <b>{me.studio?.name ?? 'Wareboard'}</b>
        <nav aria-label="Pages">
          <Word to="/" at={at} called="Price" />
          {me.rights.includes('settings:write') && <Word to="/studio" at={at} called="Studio" />}
        </nav>
        <button type="button" class="quiet" onClick={leave}>
          Sign out {me.name}
        </button>
      </header>
      <main id="answer" tabIndex={-1} class={narrow ? 'form' : undefined}>
        <h1>{question}</h1>
        {children}
      </main>
    </>
  );
}

function Word({ to, at, called }: { to: string; at: string; called: string }) {
  return (
    <a href={to} aria-current={to === at ? 'page' : undefined}>
      {called}
    </a>
  );
}
