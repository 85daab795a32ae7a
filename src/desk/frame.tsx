import type { ComponentChildren } from 'preact';
import { api, type Schemas } from './client';
import { Heading } from './heading';

type Me = Schemas['Me'];
type Props = { me: Me; question: string; narrow?: boolean; busy?: boolean; children: ComponentChildren };

/** The pages by their words, and the right without which a page would be a refusal; at most five fit a thumb's reach. */
const PAGES: { to: string; called: string; right: Me['rights'][number] }[] = [
  { to: '/', called: 'Today', right: 'ware:read' },
  { to: '/owes', called: 'Who owes', right: 'money:read' },
  { to: '/price', called: 'Price', right: 'planning:read' },
  { to: '/shelf', called: 'Shelf', right: 'stock:read' },
  { to: '/studio', called: 'Studio', right: 'settings:write' },
];

/** A page of the desk: a line of words, one question, and what answers it. */
export function Frame({ me, question, narrow = false, busy = false, children }: Props) {
  const leave = async () => {
    await api.POST('/api/sign-out').catch(() => undefined); // whoever is signed out already is where they want to be
    location.assign('/sign-in');
  };
  const at = `/${location.pathname.split('/')[1] ?? ''}`;
  return (
    <>
      <a class="skip" href="#answer">
        To the answer
      </a>
      <header class="words">
        <b>{me.studio?.name ?? 'Wareboard'}</b>
        <nav aria-label="Pages">
          {PAGES.filter(({ right }) => me.rights.includes(right)).map(({ to, called }) => (
            <a key={to} href={to} aria-current={to === at ? 'page' : undefined}>
              {called}
            </a>
          ))}
        </nav>
        <button type="button" class="quiet" onClick={leave}>
          Sign out {me.name}
        </button>
      </header>
      <main id="answer" tabIndex={-1} class={narrow ? 'form' : undefined} aria-busy={busy}>
        <Heading>{question}</Heading>
        {children}
      </main>
    </>
  );
}
