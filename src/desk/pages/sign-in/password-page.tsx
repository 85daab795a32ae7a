import { useCallback } from 'preact/hooks';
import { api, type Schemas } from '../../api/client';
import { useOpened } from '../../api/query';
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
  const isReadable = overPlainHttp();
  return (
    <main class="narrow">
      <h1>Choose a password</h1>
      {isReadable && <PlainHttp doing="Choosing a password" />}
      {!isReadable && token === '' && <p class="answer">Open the whole link from your email.</p>}
      {!isReadable && token !== '' && <Link token={token} />}
    </main>
  );
}

/** Whose link it is, asked once: after it was used it is nobody's any more. */
function Link({ token }: { token: string }) {
  const read = useCallback(
    async (signal: AbortSignal): Promise<LinkOwner> => {
      const { data } = await api.POST('/api/password-link', { body: { token }, signal });
      if (!data) throw new Error('The link could not be looked up. Please reload the page.');
      return data;
    },
    [token],
  );
  const { opened: owner, error } = useOpened({ key: ['password link', token], read });
  if (owner) return <Choose owner={owner} token={token} />;
  if (!error) return <p aria-busy="true" />;
  return (
    <>
      <ErrorMessage>{error.message}</ErrorMessage>
      <p>
        <a href="/sign-in">Sign in</a>
      </p>
    </>
  );
}

function Choose({ owner: { name, email, purpose, studioName }, token }: { owner: LinkOwner; token: string }) {
  const form = useForm({
    initial: { password: '' },
    schema: 'PasswordByLinkInput',
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
