import { useState } from 'preact/hooks';
import { api, Refused } from '../../api/client';
import { ErrorMessage } from '../../forms/error-message';
import { Field } from '../../forms/field';
import { useTitle } from '../../ui/use-title';
import { overPlainHttp, PlainHttp } from './plain-http';

/** Makes the first owner. The token stands behind the # of the printed link, so that no server log on the way ever holds it. */
export function SetUpPage() {
  useTitle('Set up');
  const [refused, setRefused] = useState<Refused | null>(null);
  const token = location.hash.slice(1);
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget as HTMLFormElement);
    const [name, email, password] = ['name', 'email', 'password'].map((field) => String(form.get(field))) as [
      string,
      string,
      string,
    ];
    try {
      await api.POST('/api/set-up', { body: { token, name, email, password } });
      await api.POST('/api/sign-in', { body: { email, password } });
      location.assign('/studio');
    } catch (error) {
      setRefused(error instanceof Refused ? error : new Refused('unknown', String(error)));
    }
  };
  const faultOf = (field: string) => refused?.faults.find(({ pointer }) => pointer === `#/${field}`)?.detail;
  if (overPlainHttp())
    return (
      <main class="narrow">
        <h1>Set up your studio</h1>
        <PlainHttp doing="Setting up" />
      </main>
    );
  if (token === '')
    return (
      <main class="narrow">
        <h1>Set up your studio</h1>
        <p class="answer">Open the whole link that the server printed when it started.</p>
      </main>
    );
  return (
    <main class="narrow">
      <h1>Set up your studio</h1>
      <p class="answer">Make yourself its owner. You can add others later.</p>
      <form onSubmit={submit}>
        <Field label="Your name" name="name" autocomplete="name" fault={faultOf('name')} required />
        <Field
          label="Email address"
          name="email"
          type="email"
          autocomplete="username"
          fault={faultOf('email')}
          required
        />
        <Field
          label="Password"
          name="password"
          type="password"
          hint="At least 10 characters; a few words are best."
          autocomplete="new-password"
          fault={faultOf('password')}
          required
        />
        {refused && <ErrorMessage>{refused.message}</ErrorMessage>}
        <button type="submit">Make me the owner</button>
      </form>
    </main>
  );
}
