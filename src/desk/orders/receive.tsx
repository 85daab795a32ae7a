import { useId, useRef, useState } from 'preact/hooks';
import { moneyEntered } from '../../trade/text/parse-input.js';
import { api, type Schemas } from '../client';
import { useDeed } from '../deed';
import { Fault, Field } from '../entry/field';
import type { Tell } from '../tell';
import { lotsOf, type Typed, usualArrival } from './arriving';
import type { Order } from './read';

type Props = { order: Order; today: string; tell: Tell; onDone(said: string): Promise<void>; onLeave(): void };

/** Receives what came of an order, and its carriage where that was billed. Nothing typed is lost where it is refused. */
export function Receive({ order, today, tell, onDone, onLeave }: Props) {
  const [typed, setTyped] = useState<Typed[]>(() => usualArrival(order, tell.currency));
  const [faults, setFaults] = useState<Record<string, string>>({});
  const form = useRef<HTMLFormElement>(null);
  const deed = useDeed();
  const send = useArrival(deed, order.id);
  const change = (materialId: string, next: Partial<Typed>) =>
    setTyped((lines) => lines.map((line) => (line.materialId === materialId ? { ...line, ...next } : line)));
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    if (!form.current) return;
    const filled = new FormData(form.current);
    const of = (name: string) => String(filled.get(name) ?? '').trim();
    const { lots, faults } = lotsOf(typed, tell.currency);
    setFaults(faults);
    if (Object.keys(faults).length > 0) return;
    if (lots.length === 0) return deed.refuse('Write how much came of at least one material.');
    try {
      const carriageMinor = of('carriage') === '' ? 0 : moneyEntered(of('carriage'), tell.currency);
      if (await send({ receivedOn: of('on'), lots }, carriageMinor))
        await onDone(`What came of order ${order.number} is on the shelf.`);
    } catch (error) {
      deed.refuse((error as Error).message);
    }
  };
  return (
    <form ref={form} class="receiving no-paper" onSubmit={submit} noValidate>
      <h3>What came of order {order.number}?</h3>
      {typed.map((line) => (
        <Line
          key={line.materialId}
          line={line}
          fault={faults[line.materialId]}
          onChange={(next) => change(line.materialId, next)}
        />
      ))}
      <div class="pairs">
        <Field label="Received on" name="on" value={today} hint="Year, month, day." />
        <Field
          label="Carriage that was billed"
          name="carriage"
          figures
          required={false}
          hint={`In ${tell.currency}; empty where none.`}
        />
      </div>
      {deed.because && <Fault>{deed.because}</Fault>}
      <p class="acts">
        <button type="submit" aria-disabled={deed.busy}>
          Put it on the shelf
        </button>
        <button type="button" class="quiet" onClick={onLeave}>
          Cancel
        </button>
      </p>
    </form>
  );
}

/** Enters a delivery, then its carriage. Where only the carriage was refused, another try enters no second delivery. */
function useArrival({ run }: ReturnType<typeof useDeed>, orderId: string) {
  const received = useRef<string | null>(null);
  return async (body: Schemas['Arrived'], amountMinor: number): Promise<boolean> => {
    if (!received.current) {
      const params = { path: { orderId } };
      const arrived = await run(['came', body], async (headers) => {
        const { data } = await api.POST('/api/orders/{orderId}/consignments', { params, body, headers });
        received.current = data?.id ?? null;
      });
      if (!arrived) return false;
    }
    if (amountMinor === 0 || !received.current) return true;
    const params = { path: { consignmentId: received.current } };
    const billed = { amountMinor, note: '' };
    return run(['carriage', params, billed], (headers) =>
      api.POST('/api/consignments/{consignmentId}/carriage', { params, body: billed, headers }),
    );
  };
}

type LineProps = { line: Typed; fault: string | undefined; onChange(next: Partial<Typed>): void };

function Line({ line, fault, onChange }: LineProps) {
  const id = useId();
  const shared = {
    type: 'text' as const,
    autocomplete: 'off',
    'aria-describedby': fault ? `${id}-fault` : undefined,
    'aria-invalid': fault ? (true as const) : undefined,
  };
  return (
    <fieldset>
      <legend>{line.name}</legend>
      <div class="came-line">
        <label class="field">
          <span>How much</span>
          <input
            {...shared}
            value={line.quantity}
            onInput={(event) => onChange({ quantity: event.currentTarget.value })}
          />
        </label>
        <label class="field">
          <span>Billed</span>
          <input
            {...shared}
            inputMode="decimal"
            value={line.cost}
            onInput={(event) => onChange({ cost: event.currentTarget.value })}
          />
        </label>
      </div>
      {fault && (
        <small class="iron" id={`${id}-fault`} role="alert">
          {fault}
        </small>
      )}
    </fieldset>
  );
}
