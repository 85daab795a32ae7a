import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { api, type Schemas, signInFirst } from '../api/client';
import { useIdempotencyKey } from '../api/idempotency-key';
import type { Formatter } from '../format/formatter';
import { amountTyped } from '../forms/amount';
import { ErrorMessage } from '../forms/error-message';
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
type Props = { debtor: Debtor; formatter: Formatter; onPaid(paid: Paid): void; onLeave(): void };

/** Takes a payment of one person. Nothing typed is lost where it is refused. */
export function PaymentForm({ debtor, formatter, onPaid, onLeave }: Props) {
  const [typed, setTyped] = useState<Typed[]>(() => usualPayment(debtor, formatter.currency));
  const [method, setMethod] = useState<Method>('cash');
  const [voucherCode, setVoucherCode] = useState('');
  const [faults, setFaults] = useState<Faults>(NO_FAULTS);
  const [busy, setBusy] = useState(false);
  const key = useIdempotencyKey();
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
    if (busy) return;
    const outcome = paymentOf(debtor.personId, { method, voucherCode, lines: typed }, formatter.currency);
    if ('faults' in outcome) return setFaults(outcome.faults);
    setBusy(true);
    setFaults(NO_FAULTS);
    try {
      const body = outcome.payment;
      const { data } = await api.POST('/api/payments', { body, headers: key.headersFor(body) });
      key.answered();
      if (data) onPaid({ payment: data, name: debtor.name });
    } catch (error) {
      if (!signInFirst(error)) setFaults(faultsFrom(error, outcome.payment, typed));
      setBusy(false);
    }
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
      <fieldset class="methods">
        <legend>How</legend>
        {METHODS.map(([value, called]) => (
          <label key={value}>
            <input type="radio" name={`${id}-how`} checked={value === method} onChange={() => setMethod(value)} />{' '}
            {called}
          </label>
        ))}
      </fieldset>
      {method === 'voucher' && <VoucherCode {...{ voucherCode, setVoucherCode }} fault={faults.voucher} />}
      {faults.whole && <ErrorMessage>{faults.whole}</ErrorMessage>}
      <p class="acts">
        <button type="submit" aria-disabled={busy}>
          Take {formatter.money(sum)}
        </button>
        <button type="button" class="quiet" onClick={onLeave}>
          Cancel
        </button>
      </p>
    </form>
  );
}

type CodeProps = { voucherCode: string; setVoucherCode(code: string): void; fault: string };

function VoucherCode({ voucherCode, setVoucherCode, fault }: CodeProps) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>The voucher’s code</label>
      <input
        {...{ id }}
        type="text"
        autocomplete="off"
        value={voucherCode}
        aria-invalid={fault ? true : undefined}
        aria-describedby={fault ? `${id}-fault` : undefined}
        onInput={(event) => setVoucherCode(event.currentTarget.value)}
      />
      {fault && (
        <small class="iron" id={`${id}-fault`} role="alert">
          {fault}
        </small>
      )}
    </div>
  );
}
