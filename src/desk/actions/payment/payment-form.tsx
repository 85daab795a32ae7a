import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { api, type Schemas } from '../../api/client';
import { useMutation } from '../../api/use-mutation';
import type { Formatter } from '../../format/formatter';
import { amountTyped } from '../../forms/amount';
import { ChoiceField } from '../../forms/choice-field';
import { ErrorMessage } from '../../forms/error-message';
import { Field } from '../../forms/field';
import { ChargeLine } from './charge-line';
import type { Debtor } from './charge-totals';
import {
  type Faults,
  faultsFrom,
  METHODS,
  type Method,
  NO_FAULTS,
  paymentOf,
  type Typed,
  usualPayment,
} from './payment';

export type Paid = { payment: Schemas['Payment']; name: string };
type Props = {
  debtor: Debtor;
  formatter: Formatter;
  /** on a page whose own list shows what is paid, rather than in a dialog */
  thenRead?: boolean;
  onPaid(paid: Paid): void;
  onLeave(): void;
};

/** Takes a payment of one person. Nothing typed is lost where it is refused. */
export function PaymentForm({ debtor, formatter, thenRead = false, onPaid, onLeave }: Props) {
  const [typed, setTyped] = useState<Typed[]>(() => usualPayment(debtor, formatter.currency));
  const [method, setMethod] = useState<Method>('cash');
  const [voucherCode, setVoucherCode] = useState('');
  const [faults, setFaults] = useState<Faults>(NO_FAULTS);
  const taking = useMutation({ thenRead });
  const first = useRef<HTMLHeadingElement>(null);
  const id = useId();
  useEffect(() => first.current?.focus(), []);
  const change = (chargeId: string, next: Partial<Typed>) =>
    setTyped((lines) => lines.map((line) => (line.charge.chargeId === chargeId ? { ...line, ...next } : line)));
  const sum = typed.reduce(
    (all, { taken, amount }) => all + (taken ? (amountTyped(amount, formatter.currency) ?? 0) : 0),
    0,
  );

  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    const outcome = paymentOf(debtor.personId, { method, voucherCode, lines: typed }, formatter.currency);
    if ('faults' in outcome) return setFaults(outcome.faults);
    setFaults(NO_FAULTS);
    const body = outcome.payment;
    let payment: Schemas['Payment'] | undefined;
    await taking.run(body, async (headers) => {
      try {
        payment = (await api.POST('/api/payments', { body, headers })).data;
      } catch (error) {
        setFaults(faultsFrom(error, body));
        throw error;
      }
    });
    if (payment) onPaid({ payment, name: debtor.name });
  };
  return (
    <form class="payment" onSubmit={submit} aria-labelledby={id} noValidate>
      <h3 id={id} ref={first} tabIndex={-1}>
        What is {debtor.name} paying?
      </h3>
      {typed.map((line) => (
        <ChargeLine
          key={line.charge.chargeId}
          {...{ line, formatter }}
          fault={faults.byCharge[line.charge.chargeId]}
          onChange={(next) => change(line.charge.chargeId, next)}
        />
      ))}
      <ChoiceField<Method> legend="How" choices={METHODS} value={method} onChange={setMethod} />
      {method === 'voucher' && (
        <Field
          label="The voucher’s code"
          value={voucherCode}
          onChange={setVoucherCode}
          fault={faults.voucher || undefined}
        />
      )}
      {faults.whole && <ErrorMessage>{faults.whole}</ErrorMessage>}
      <p class="acts">
        <button type="submit" aria-disabled={taking.busy}>
          Take {formatter.money(sum)}
        </button>
        <button type="button" class="quiet" onClick={onLeave}>
          Cancel
        </button>
      </p>
    </form>
  );
}
