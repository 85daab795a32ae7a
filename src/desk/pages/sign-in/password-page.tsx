import { useEffect, useState } from 'preact/hooks';
import { api, type Schemas } from '../../api/client';
import { ErrorMessage } from '../../forms/error-message';
import { Field } from '../../forms/field';
import { Form } from '../../forms/form';
import { useForm } from '../../forms/use-form';
import { useTitle } from '../../ui/use-title';
import { overPlainHttp, PlainHttp } from './plain-http';

type LinkOwner = Schemas['LinkOwner'];

/** Where an invitation or a lost password leads. The token is behind the # of the link, so no server log on the way ever holds it. */
export function PasswordPage() {
  useTitle('Choose a password');
  const token = location.hash.slice(1);
  const [owner, setOwner] = useState<LinkOwner | null>(null);
  const [error, setError] = useState('');
  const isReadable = overPlainHttp();
  useEffect(() => {
    if (token === '' || isReadable) return;
    api.POST('/api/password-link', { body: { token } }).then(
      ({ data }) => setOwner(data ?? null),
      (failure: Error) => setError(failure.message),
    );
  }, []);
  return (
    <main class="narrow" aria-busy={token !== '' && !isReadable && !owner && !error}>
      <h1>Choose a password</h1>
      {isReadable && <PlainHttp doing="Choosing a password" />}
      {!isReadable && token === '' && <p class="answer">Open the whole link from your email.</p>}
      {error && <ErrorMessage>{error}</ErrorMessage>}
      {error && (
        <p>
          <a href="/sign-in">Sign in</a>
        </p>
      )}
      {owner && <Choose owner={owner} token={token} />}
    </main>
  );
}

function Choose({ owner: { name, email, purpose, studioName }, token }: { owner: LinkOwner; token: string }) {
  const form = useForm({
    initial: { password: '' },
    schema: 'PasswordByLink',
    send: async ({ password }, headers) => {
      await api.POST('/api/password-link/use', { body: { token, password }, headers });
      await api.POST('/api/sign-in', { body: { email, password } });
    },
    onSaved: () => location.assign('/'),
  });
  const studio = studioName ?? 'the studio';
  return (
    <>
      <p class="answer">
        {purpose === 'invitation' ? `Welcome to ${studio}, ${name}.` : `A new password for ${name} at ${studio}.`}
      </p>
      <p>
        You sign in with <b>{email}</b> and the password you choose here.
      </p>
      <Form form={form} save="Save and sign in">
        <input type="email" autocomplete="username" value={email} readOnly hidden />
        <Field
          label="Your password"
          hint="At least 10 characters; a few words are best."
          type="password"
          autocomplete="new-password"
          {...form.field('password')}
        />
      </Form>
    </>
  );
}
