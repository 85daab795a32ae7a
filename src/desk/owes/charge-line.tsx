import { useId } from 'preact/hooks';
import type { Tell } from '../tell';
import type { Typed } from './payment';

type Props = { line: Typed; tell: Tell; fault: string | undefined; onChange(next: Partial<Typed>): void };

function dueTold({ dueMinor, owedMinor }: Typed['charge'], { money }: Tell): string {
  if (dueMinor === 0) return ', not due yet';
  return dueMinor < owedMinor ? `, ${money(dueMinor)} of it due` : '';
}

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
            {charge.hold
              ? `place held, ${tell.money(charge.heldMinor)} asked; the deposit is ${tell.money(charge.hold.depositMinor)}`
              : `${tell.money(charge.owedMinor)} owed${dueTold(charge, tell)}`}
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
