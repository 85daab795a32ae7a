import { useRef, useState } from 'preact/hooks';
import { parseMoney } from '../../../../trade/text/parse-input.js';
import { api, type Schemas } from '../../../api/client';
import { further } from '../../../api/idempotency-key';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { type LineFaults, lotsOf, type Typed, usualArrival } from './delivery';
import type { Order } from './queries';

type Props = {
  order: Order;
  today: string;
  formatter: Formatter;
  onDone(said: string): void;
  onLeave(): void;
};

/** Receives what came of an order, and its carriage where that was billed. Nothing typed is lost where it is refused. */
export function Receive({ order, today, formatter, onDone, onLeave }: Props) {
  const [typed, setTyped] = useState<Typed[]>(() => usualArrival(order, formatter.currency));
  const [faults, setFaults] = useState<Record<string, LineFaults>>({});
  const form = useRef<HTMLFormElement>(null);
  const deed = useMutation({ thenRead: true });
  const send = useArrival(deed, order.id);
  const change = (materialId: string, next: Partial<Typed>) =>
    setTyped((lines) => lines.map((line) => (line.materialId === materialId ? { ...line, ...next } : line)));
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    if (!form.current) return;
    const filled = new FormData(form.current);
    const of = (name: string) => String(filled.get(name) ?? '').trim();
    const { lots, faults } = lotsOf(typed, formatter.currency);
    setFaults(faults);
    if (Object.keys(faults).length > 0) return;
    if (lots.length === 0) return deed.refuse('Write how much came of at least one material.');
    try {
      const carriageMinor = of('carriage') === '' ? 0 : parseMoney(of('carriage'), formatter.currency);
      if (await send({ receivedOn: of('on'), lots }, carriageMinor))
        onDone(`What came of order ${order.number} is on the shelf.`);
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
          faults={faults[line.materialId]}
          onChange={(next) => change(line.materialId, next)}
        />
      ))}
      <div class="pairs">
        <Field label="Received on" name="on" value={today} hint="Year, month, day." required />
        <Field
          label="Carriage that was billed"
          name="carriage"
          figures
          hint={`In ${formatter.currency}; empty where none.`}
        />
      </div>
      {deed.error && <ErrorMessage>{deed.error}</ErrorMessage>}
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
function useArrival({ run }: ReturnType<typeof useMutation>, orderId: string) {
  const received = useRef<string | null>(null);
  return async (body: Schemas['Arrived'], amountMinor: number): Promise<boolean> => {
    return run([body, amountMinor], async (headers) => {
      if (!received.current) {
        const params = { path: { orderId } };
        const { data } = await api.POST('/api/orders/{orderId}/consignments', { params, body, headers });
        received.current = data?.id ?? null;
      }
      if (amountMinor === 0 || !received.current) return;
      const params = { path: { consignmentId: received.current } };
      const billed = { amountMinor, note: '' };
      await api.POST('/api/consignments/{consignmentId}/carriage', {
        ...{ params, body: billed, headers: further(headers, 1) },
      });
    });
  };
}

type LineProps = { line: Typed; faults: LineFaults | undefined; onChange(next: Partial<Typed>): void };

const Line = ({ line, faults, onChange }: LineProps) => (
  <fieldset>
    <legend>{line.name}</legend>
    <div class="came-line">
      <Field
        label="How much"
        value={line.quantity}
        fault={faults?.quantity}
        onChange={(quantity) => onChange({ quantity })}
      />
      <Field label="Billed" figures value={line.cost} fault={faults?.cost} onChange={(cost) => onChange({ cost })} />
    </div>
  </fieldset>
);
