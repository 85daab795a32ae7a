import { useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { api } from '../../api/client';
import { ErrorMessage } from '../../forms/error-message';
import { Field } from '../../forms/field';
import { useTitle } from '../../ui/use-title';
import { placeAfter } from './place-after';
import { overPlainHttp, PlainHttp } from './plain-http';

export function SignInPage() {
  useTitle('Sign in');
  const { query } = useLocation();
  const [fault, setFault] = useState('');
  const [busy, setBusy] = useState(false);
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget as HTMLFormElement);
    setBusy(true);
    try {
      await api.POST('/api/sign-in', {
        body: { email: String(form.get('email')), password: String(form.get('password')) },
      });
      location.assign(placeAfter(query.then, location.origin));
    } catch (error) {
      setFault((error as Error).message);
      setBusy(false);
    }
  };
  return (
    <main class="narrow">
      <h1>Sign in</h1>
      <p class="answer">Sign in to the studio.</p>
      {overPlainHttp() ? (
        <PlainHttp doing="Signing in" />
      ) : (
        <form onSubmit={submit}>
          <Field label="Email address" name="email" type="email" autocomplete="username" required />
          <Field label="Password" name="password" type="password" autocomplete="current-password" required />
          {fault && <ErrorMessage>{fault}</ErrorMessage>}
          <button type="submit" disabled={busy}>
            Sign in
          </button>
        </form>
      )}
    </main>
  );
}
