import type { Refused, Schemas } from '../../../api/client';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { type Difference, fieldOf } from './form-values';
import { STUDIO_FIELDS, type StudioText } from './studio-fields';
import { type Unused, UnusedRoom } from './unused-room';

type Props = {
  values: StudioText;
  rates: Schemas['TaxRate'][];
  /** null in a new studio, which first makes a rate */
  taxRateId: string | null;
  refused: Refused | null;
  /** where what was typed differs from what somebody else has saved meanwhile */
  changes: Difference[];
  /** what each choice of who pays for empty room would have meant */
  unused: Unused | null;
  busy: boolean;
  save(typed: StudioText & { tax: string }): Promise<void>;
};

const ADVICE = 'Rates and exemptions are your choice, with your accountant. It counts only with a VAT number.';

export function StudioForm({ values, rates, taxRateId, refused, changes, unused, busy, save }: Props) {
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget as HTMLFormElement);
    void save(
      Object.fromEntries([...form].map(([name, value]) => [name, String(value)])) as Parameters<typeof save>[0],
    );
  };
  const faultOf = (name: string) => refused?.faults.find(({ pointer }) => fieldOf(pointer) === name)?.detail;
  return (
    <form onSubmit={submit}>
      {STUDIO_FIELDS.map(({ group, fields }) => (
        <fieldset key={group}>
          <legend>{group}</legend>
          <div class="pairs">
            {fields.map(({ name, label, kind, hint, choices }) => (
              <Field
                key={name}
                {...{ name, label, hint, choices, value: values[name], fault: faultOf(name) }}
                lines={kind === 'lines'}
                figures={['money', 'whole', 'decimal'].includes(kind)}
                required={kind !== 'optional'}
              />
            ))}
            {group === 'Clay, glaze and kiln' && taxRateId !== null && (
              <UnusedRoom unused={unused} locale={values.locale} />
            )}
            {group === 'Tax' && <Tax {...{ rates, taxRateId }} fault={faultOf('tax') ?? faultOf('percent')} />}
          </div>
        </fieldset>
      ))}
      {refused && <Refusal {...{ refused, changes }} />}
      <button type="submit" disabled={busy}>
        {taxRateId === null ? 'Save and continue' : 'Save the studio'}
      </button>
    </form>
  );
}

type TaxProps = Pick<Props, 'rates' | 'taxRateId'> & { fault: string | undefined };

function Tax({ rates, taxRateId, fault }: TaxProps) {
  const choices = rates.map(({ id, name }) => [id, name] as const);
  if (taxRateId !== null)
    return <Field name="tax" label="VAT on firings" {...{ choices, value: taxRateId, fault }} hint={ADVICE} required />;
  return <Field name="tax" label="VAT on firings, percent" value="20" figures hint={ADVICE} fault={fault} required />;
}

/** What is wrong, field by field, where the button is: the fields themselves may be far above. */
function Refusal({ refused, changes }: Pick<Props, 'changes'> & { refused: Refused }) {
  const labels = new Map(STUDIO_FIELDS.flatMap(({ fields }) => fields.map(({ name, label }) => [String(name), label])));
  const faults = refused.faults.map(({ pointer, detail }) => `${labels.get(fieldOf(pointer)) ?? pointer}: ${detail}`);
  const others = changes.map(({ label, saved }) => `${label} is now: ${saved || 'empty'}`);
  return (
    <ErrorMessage>
      {refused.message}
      {others.map((other) => (
        <span class="row" key={other}>
          {other}
        </span>
      ))}
      {faults.map((fault) => (
        <span class="row" key={fault}>
          {fault}
        </span>
      ))}
    </ErrorMessage>
  );
}
