import { useId } from 'preact/hooks';
import type { Formatter } from '../../format/formatter';
import { CheckboxField } from '../../forms/checkbox-field';
import type { Typed } from './payment';

type Props = { line: Typed; formatter: Formatter; fault: string | undefined; onChange(next: Partial<Typed>): void };

function dueTold({ dueMinor, owedMinor }: Typed['charge'], { money }: Formatter): string {
  if (dueMinor === 0) return ', not due yet';
  return dueMinor < owedMinor ? `, ${money(dueMinor)} of it due` : '';
}

/** A charge in the payment form: whether it is paid, and how much of it. */
export function ChargeLine({ line: { charge, taken, amount }, formatter, fault, onChange }: Props) {
  const id = useId();
  return (
    <div class="charge-line">
      <CheckboxField checked={taken} onChange={(taken) => onChange({ taken })}>
        {charge.description}
        <small>
          {charge.hold
            ? `place held, ${formatter.money(charge.heldMinor)} asked; the deposit is ${formatter.money(charge.hold.depositMinor)}`
            : `${formatter.money(charge.owedMinor)} owed${dueTold(charge, formatter)}`}
        </small>
      </CheckboxField>
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
