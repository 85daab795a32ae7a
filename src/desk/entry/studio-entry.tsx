import { useState } from 'preact/hooks';
import { minorDigits } from '../../trade/money.js';
import { api, Refused, signInFirst } from '../client';
import { Fault, Field } from './field';
import { STUDIO_FIELDS, studioFrom } from './studio-fields';

/** Enters a new studio, with the tax rate that its firings bear. */
export function StudioEntry() {
  const [refused, setRefused] = useState<Refused | null>(null);
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget as HTMLFormElement);
    const typed = (name: string) => String(form.get(name) ?? '');
    try {
      await api.PUT('/api/studio', {
        body: studioFrom(typed, digitsOf(typed('currency')), await standardRate(typed('vatPercent'))),
      });
      location.assign('/');
    } catch (error) {
      if (!signInFirst(error)) setRefused(error instanceof Refused ? error : new Refused('unknown', String(error)));
    }
  };
  const faultOf = (name: string) => refused?.faults.find(({ pointer }) => pointer.startsWith(`#/${name}`))?.detail;
  return (
    <main class="narrow">
      <h1>What is the studio like?</h1>
      <p class="answer">A few figures, so that prices come out right. All of them can be changed later.</p>
      <form onSubmit={submit}>
        {STUDIO_FIELDS.map(({ group, fields }) => (
          <fieldset key={group}>
            <legend>{group}</legend>
            {fields.map(({ name, label, kind, value, hint }) => (
              <Field
                key={name}
                {...{ name, label, value, hint }}
                required={kind !== 'optional'}
                fault={faultOf(name)}
              />
            ))}
          </fieldset>
        ))}
        <fieldset>
          <legend>Tax</legend>
          <Field
            label="VAT on firings, percent"
            name="vatPercent"
            value="20"
            hint="Rates and exemptions are your choice, with your accountant. It counts only with a VAT number."
          />
        </fieldset>
        {refused && <Fault>{refused.message}</Fault>}
        <button type="submit">Enter the studio</button>
      </form>
    </main>
  );
}

/** The rate of that percentage, made where the studio has none yet: a second try after a refusal must not make another. */
async function standardRate(percent: string): Promise<string> {
  const known = await api.GET('/api/tax-rates');
  const name = `Standard ${percent} %`;
  const same = known.data?.items.find((rate) => rate.name === name);
  if (same) return same.id;
  const made = await api.POST('/api/tax-rates', { body: { name, kind: 'standard', percent } });
  return made.data?.id ?? '';
}

function digitsOf(currency: string): number {
  try {
    return minorDigits(currency);
  } catch {
    return 2; // no currency at all: the server says so
  }
}
