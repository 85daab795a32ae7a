import { useRef, useState } from 'preact/hooks';
import { api } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import { useMutation } from '../../../api/use-mutation';
import { count } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { Form } from '../../../forms/form';
import { useForm } from '../../../forms/use-form';
import { Page } from '../../../ui/page';
import { StudioTabs } from '../studio-tabs';

const readNothing = async () => null; // all that is shown is who is signed in

/** Who is signed in, and how they get in. */
export function AccountPage() {
  return (
    <Page question="Your account" tabs={(me) => <StudioTabs me={me} />} read={readNothing}>
      {(_, { me }) => <Account me={me} />}
    </Page>
  );
}

function Account({ me }: { me: Me }) {
  return (
    <>
      <p class="answer">
        You are <b>{me.name}</b>, {me.role === 'owner' ? 'an owner' : 'a tutor'}. You sign in with <b>{me.email}</b>.
      </p>
      <PasswordSection email={me.email} />
      <DevicesSection />
    </>
  );
}

const endedInWords = (sessions: number): string =>
  sessions === 0 ? 'You were signed in on no other device.' : `${count(sessions, 'other session')} ended.`;

function PasswordSection({ email }: { email: string }) {
  const [sessionsEnded, setSessionsEnded] = useState<number | null>(null);
  const ended = useRef(0);
  const empty = { currentPassword: '', password: '' };
  const form = useForm({
    initial: empty,
    schema: 'PasswordChangeInput',
    send: async (body, headers) => {
      setSessionsEnded(null);
      const { data } = await api.POST('/api/password', { body, headers });
      ended.current = data?.sessionsEnded ?? 0;
    },
    onSaved: () => {
      form.reset(empty);
      setSessionsEnded(ended.current);
    },
  });
  return (
    <section>
      <h2>Change your password</h2>
      <Form form={form} save="Change password">
        <input type="email" autocomplete="username" value={email} readOnly hidden />
        <Field
          label="Current password"
          type="password"
          autocomplete="current-password"
          {...form.field('currentPassword')}
        />
        <Field
          label="New password"
          hint="At least 10 characters; a few words are best."
          type="password"
          autocomplete="new-password"
          {...form.field('password')}
        />
      </Form>
      <p role="status">{sessionsEnded !== null && `Your password is changed. ${endedInWords(sessionsEnded)}`}</p>
    </section>
  );
}

function DevicesSection() {
  const { run, error, busy } = useMutation();
  const [sessionsEnded, setSessionsEnded] = useState<number | null>(null);
  const signOutElsewhere = () =>
    run('elsewhere', async () => {
      const { data } = await api.POST('/api/sign-out/others');
      setSessionsEnded(data?.sessionsEnded ?? 0);
    });
  const signOut = async () => {
    await api.POST('/api/sign-out').catch(() => undefined); // somebody who is signed out already is where they want to be
    location.assign('/sign-in');
  };
  return (
    <section>
      <h2>Signed in</h2>
      <p>A session ends after 30 days, or three days after it was last used. Lost a phone? Sign out everywhere else.</p>
      <p class="acts">
        <button type="button" class="quiet" aria-disabled={busy} onClick={signOutElsewhere}>
          Sign out everywhere else
        </button>
        <button type="button" class="quiet" onClick={signOut}>
          Sign out here
        </button>
      </p>
      <p role="status">{sessionsEnded !== null && endedInWords(sessionsEnded)}</p>
      {error && <ErrorMessage>{error}</ErrorMessage>}
    </section>
  );
}
