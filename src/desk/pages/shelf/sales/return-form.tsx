import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { parseQuantity } from '../../../../trade/text/parse-input.js';
import { api } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { plainQuantity } from '../../../format/quantity';
import { ChoiceField } from '../../../forms/choice-field';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { inWords } from './labels';
import type { Sale } from './queries';
import { creditOf } from './sale-price';

type Props = { sale: Sale; formatter: Formatter; onDone(said: string): void; onLeave(): void };

const METHODS = [
  ['cash', 'In cash'],
  ['card', 'By card'],
  ['transfer', 'By transfer'],
] as const;
type Method = (typeof METHODS)[number][0];

/** Takes all or a part of a sale back; what that does to the money stands there before the button is pressed. */
export function TakeBack({ sale, formatter, onDone, onLeave }: Props) {
  const { id, unit, keptQuantity, personName, materialName } = sale;
  const [typed, setTyped] = useState(plainQuantity(keptQuantity, unit));
  const [reason, setReason] = useState('Came back unused');
  const [method, setMethod] = useState<Method>('cash');
  const deed = useMutation({ thenRead: true });
  const first = useRef<HTMLHeadingElement>(null);
  const titled = useId();
  useEffect(() => first.current?.focus(), []);
  const coming = comingOf(typed, sale);
  const money = coming.quantity === null ? null : creditOf(sale, coming.quantity);
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    if (coming.quantity === null) return deed.refuse(coming.error);
    const body = { quantity: coming.quantity, reason, ...(money && money.refundMinor > 0 && { method }) };
    const done = await deed.run([id, keptQuantity, body], (headers) =>
      api.POST('/api/sales/{saleId}/takings-back', { params: { path: { saleId: id } }, body, headers }),
    );
    if (done) onDone(`${inWords(coming.quantity, unit, formatter)} of ${materialName} came back from ${personName}.`);
  };
  return (
    <form class="payment" onSubmit={submit} aria-labelledby={titled} noValidate>
      <h3 id={titled} ref={first} tabIndex={-1}>
        What comes back from {personName}?
      </h3>
      <div class="pairs">
        <Field
          label={`How much of ${materialName}`}
          value={typed}
          fault={coming.quantity === null && typed.trim() !== '' ? coming.error : undefined}
          onChange={setTyped}
        />
        <Field label="Reason, as it is printed on the credit note" value={reason} onChange={setReason} />
      </div>
      {money && <p role="status">{moneyInWords(money, formatter)}</p>}
      {money && money.refundMinor > 0 && (
        <ChoiceField legend="How the money goes back" choices={METHODS} value={method} onChange={setMethod} />
      )}
      {deed.error && <ErrorMessage>{deed.error}</ErrorMessage>}
      <p class="acts">
        <button type="submit" aria-disabled={deed.busy}>
          Put it back on the shelf
        </button>
        <button type="button" class="quiet" onClick={onLeave}>
          Cancel
        </button>
      </p>
    </form>
  );
}

function comingOf(
  typed: string,
  { unit, keptQuantity }: Sale,
): { quantity: number } | { quantity: null; error: string } {
  try {
    const quantity = parseQuantity(typed, unit);
    if (quantity >= 1 && quantity <= keptQuantity) return { quantity };
    return { quantity: null, error: `Write up to ${plainQuantity(keptQuantity, unit)}: that is what they still have.` };
  } catch (error) {
    return { quantity: null, error: (error as Error).message };
  }
}

function moneyInWords({ unpaidMinor, refundMinor }: ReturnType<typeof creditOf>, { money }: Formatter): string {
  const unasked = `${money(unpaidMinor)} is no longer owed`;
  const back = `${money(refundMinor)} that was paid goes back; what a voucher paid goes back on it`;
  if (unpaidMinor === 0 && refundMinor === 0) return 'That is too little to change the price.';
  if (refundMinor === 0) return `${unasked}.`;
  return unpaidMinor === 0 ? `${back}.` : `${unasked}, and ${back}.`;
}
