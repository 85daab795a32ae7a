import type { ComponentChildren } from 'preact';
import { api } from '../api/client';
import type { Me } from '../api/use-me';
import { formatterFor } from '../format/formatter';
import { Finder } from './finder';
import { Heading } from './heading';
import { DESTINATIONS, type Destination, isAt } from './navigation';
import { Toasts } from './toast';

type Props = { me: Me; question: string; narrow?: boolean; busy?: boolean; children: ComponentChildren };

/** A page of the desk: where one can go, the page's heading, and what answers it. */
export function Layout({ me, question, narrow = false, busy = false, children }: Props) {
  const signOut = async () => {
    await api.POST('/api/sign-out').catch(() => undefined); // somebody who is signed out already is where they want to be
    location.assign('/sign-in');
  };
  return (
    <>
      <a class="skip" href="#answer">
        Skip to content
      </a>
      {me.sample && <SampleBanner ownStudio={me.sample.ownStudio} />}
      <header class="words">
        <b>{me.studio?.name ?? 'Wareboard'}</b>
        <Navigation me={me} />
        {me.studio && <Finder formatter={formatterFor({ ...me.studio, today: me.today })} />}
        <button type="button" class="quiet" onClick={signOut}>
          Sign out {me.name}
        </button>
      </header>
      <main id="answer" tabIndex={-1} class={narrow ? 'form' : undefined} aria-busy={busy}>
        <Heading>{question}</Heading>
        {children}
      </main>
      <Toasts />
    </>
  );
}

/** On each page of the invented studio, so nobody takes it for their own. */
function SampleBanner({ ownStudio }: { ownStudio: string | null }) {
  return (
    <aside class="sample-banner" aria-label="Sample studio">
      <b>Sample studio:</b> nothing here is real, and no letters go out.{' '}
      {ownStudio && <a href={`${ownStudio}/studio/sample`}>Back to your own studio</a>}
    </aside>
  );
}

/** A phone shows what is most in use along its lower edge, and the rest behind "More". */
function Navigation({ me }: { me: Me }) {
  const allowed = DESTINATIONS.filter(({ right }) => me.rights.includes(right));
  const rest = allowed.filter(({ phone }) => !phone);
  return (
    <nav aria-label="Pages">
      {allowed.map((destination) => (
        <DestinationLink key={destination.to} of={destination} desktop={!destination.phone} />
      ))}
      {rest.length > 0 && (
        <details class="more" key={location.pathname}>
          <summary aria-current={rest.some(({ to }) => isAt(to, location.pathname)) ? 'true' : undefined}>More</summary>
          <div>
            {rest.map((destination) => (
              <DestinationLink key={destination.to} of={destination} />
            ))}
          </div>
        </details>
      )}
    </nav>
  );
}

function DestinationLink({ of: { to, name }, desktop = false }: { of: Destination; desktop?: boolean }) {
  return (
    <a
      href={to}
      class={desktop ? 'desktop' : undefined}
      aria-current={isAt(to, location.pathname) ? 'page' : undefined}
    >
      {name}
    </a>
  );
}
