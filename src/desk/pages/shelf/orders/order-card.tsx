import { useState } from 'preact/hooks';
import { api } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import { count, type Formatter } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import { ErrorMessage } from '../../../forms/error-message';
import { type Column, DataTable } from '../../../ui/data-table';
import { isOpen, placeOf, stateOf } from './labels';
import type { Order } from './queries';
import { Receive } from './receive-form';

type Props = { order: Order; today: string; formatter: Formatter; onDone(said: string): void };

/** An order: how much of each material is here, what it costs, and what can be done with it. */
export function OrderCard({ order, today, formatter, onDone }: Props) {
  const { text, tone } = stateOf(order, today, formatter);
  return (
    <section id={placeOf(order)} class="order">
      <h2>
        {order.number}. {order.supplier} <span class={tone}>{text}</span>
      </h2>
      <Lines order={order} formatter={formatter} />
      {order.note && <p class="quiet">“{order.note}”</p>}
      <Acts {...{ order, today, formatter, onDone }} />
    </section>
  );
}

function Lines({ order, formatter }: Pick<Props, 'order' | 'formatter'>) {
  const { lines, arrivals, carriageMinor, totalMinor, supplier } = order;
  const columns: Column<Order['lines'][number]>[] = [
    { head: 'Material', cell: ({ name }) => name },
    {
      head: 'Ordered',
      cell: ({ packs, packQuantity, unit }) =>
        `${count(packs, 'pack')} of ${formatQuantity(packQuantity, unit, formatter)}`,
    },
    {
      head: 'Received',
      cell: (line) => {
        const came = arrivals.find(({ materialId }) => materialId === line.materialId);
        const isFirst = lines.find(({ materialId }) => materialId === line.materialId) === line;
        return isFirst && came && <Arrived {...{ came, formatter }} unit={line.unit} />;
      },
    },
    {
      ...{ head: 'Price', figures: true, total: formatter.money(totalMinor) },
      cell: ({ amountMinor }) => formatter.money(amountMinor),
    },
  ];
  const carriage = carriageMinor === 0 ? 'free of carriage' : `with ${formatter.money(carriageMinor)} of carriage`;
  return (
    <DataTable
      caption={`What is ordered from ${supplier}`}
      columns={columns}
      rows={lines}
      keyOf={({ materialId, packQuantity }) => `${materialId} ${packQuantity}`}
      total={`Total, ${carriage}`}
    />
  );
}

type ArrivedProps = Pick<Order['lines'][number], 'unit'> & { came: Order['arrivals'][number]; formatter: Formatter };

function Arrived({ came: { received, ordered }, unit, formatter }: ArrivedProps) {
  return (
    <>
      <Bar part={received / ordered} />
      <small>
        {formatQuantity(received, unit, formatter)} of {formatQuantity(ordered, unit, formatter)}
      </small>
    </>
  );
}

/** How much of it stands on the shelf, to scale. */
function Bar({ part }: { part: number }) {
  return (
    <svg viewBox="0 0 100 10" preserveAspectRatio="none" class="arrived" aria-hidden="true">
      <rect class="all" width="100" height="10" />
      <rect class="here" width={Math.min(1, part) * 100} height="10" />
    </svg>
  );
}

function Acts({ order, today, formatter, onDone }: Props) {
  const [receiving, setReceiving] = useState(false);
  const deed = useMutation({ thenRead: true });
  const { id: orderId, state, documentId, number } = order;
  const params = { path: { orderId } };
  const place = async () => {
    if (
      await deed.run(['place', orderId], (headers) =>
        api.POST('/api/orders/{orderId}/placing', { params, headers, body: {} }),
      )
    )
      onDone(`Order ${number} is placed: open its paper and send it.`);
  };
  const callOff = async () => {
    const body = { note: '' };
    if (
      await deed.run(['off', orderId], (headers) =>
        api.POST('/api/orders/{orderId}/cancellation', { params, headers, body }),
      )
    )
      onDone(`Order ${number} is cancelled.`);
  };
  if (receiving) {
    const received = (said: string) => {
      setReceiving(false);
      onDone(said);
    };
    return <Receive {...{ order, today, formatter }} onDone={received} onLeave={() => setReceiving(false)} />;
  }
  return (
    <>
      {deed.error && <ErrorMessage>{deed.error}</ErrorMessage>}
      <p class="acts">
        {state === 'drafted' && (
          <button type="button" onClick={place} aria-disabled={deed.busy}>
            Mark as ordered
          </button>
        )}
        {isOpen(order) && (
          <button type="button" onClick={() => setReceiving(true)}>
            Book in delivery
          </button>
        )}
        {documentId && (
          <a href={`/api/documents/${documentId}/pdf`} target="_blank" rel="noopener">
            Print order
          </a>
        )}
        {documentId && <a href={`/api/orders/${orderId}/lines.csv`}>Download CSV</a>}
        {(state === 'drafted' || isOpen(order)) && (
          <button type="button" class="quiet" onClick={callOff} aria-disabled={deed.busy}>
            {state === 'partReceived' ? 'Cancel the rest' : 'Cancel order'}
          </button>
        )}
      </p>
    </>
  );
}
