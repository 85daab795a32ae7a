import { useId } from 'preact/hooks';
import type { Tell } from '../tell';
import type { Typed } from './payment';

type Props = { line: Typed; tell: Tell; fault: string | undefined; onChange(next: Partial<Typed>): void };

/** A charge in the payment form: whether it is paid, and how much of it. */
export function ChargeLine({ line: { charge, taken, amount }, tell, fault, onChange }: Props) {
  const id = useId();
  return (
    <div class="charge-line">
      <label class="which">
        <input type="checkbox" checked={taken} onChange={(event) => onChange({ taken: event.currentTarget.checked })} />
        <span>
          {charge.description}
          <small>
            {tell.money(charge.owedMinor)} owed
            {charge.dueMinor > 0 && charge.dueMinor < charge.owedMinor && `, ${tell.money(charge.dueMinor)} of it due`}
            {charge.dueMinor === 0 && ', not due yet'}
          </small>
        </span>
      </label>
      <input
        aria-label={`Amount for ${charge.description}`}
        class="amount"
        type="text"
        inputMode="decimal"
        autocomplete="off"
        value={amount}
        aria-invalid={fault ? true : undefined}
        aria-describedby={fault ? id : undefined}
        onInput={(event) => onChange({ amount: event.currentTarget.value, taken: true })}
      />
      {fault && (
        <small class="iron" id={id} role="alert">
          {fault}
        </small>
      )}
    </div>
  );
}
