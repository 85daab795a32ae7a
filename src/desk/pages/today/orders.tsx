import { count, type Formatter, listed } from '../../format/formatter';
import { type Column, DataTable } from '../../ui/data-table';
import { Disclosure } from '../../ui/disclosure';
import { useNarrow } from '../../ui/use-narrow';
import { by, type Order, quantityOf, type Today } from './labels';

/** By whom it runs short: those who have booked, as many as are expected, or more than that. */
function howSure({ sure, shortOn }: Order): string {
  if (sure) return 'on current bookings';
  return shortOn ? 'if as many book as expected' : 'only if it sells out (1 in 10)';
}

const columnsOf = (day: string, formatter: Formatter): readonly Column<Order>[] => [
  { head: 'What', cell: ({ name }) => name },
  {
    head: 'How much',
    cell: (order) => (
      <>
        {quantityOf(order, formatter)}
        {order.isMixed && <small> to mix</small>}
        {!order.isMixed && order.packs > 1 && <small> in {order.packs} packs</small>}
      </>
    ),
  },
  {
    head: 'Runs out',
    cell: (order) => (
      <>
        {order.shortOn ? formatter.day(order.shortOn, day) : 'perhaps'}
        <small> {howSure(order)}</small>
      </>
    ),
  },
  {
    ...{ head: 'By', figures: true },
    cell: ({ orderBy }) => by(orderBy, day, formatter),
    toneOf: ({ sure, orderBy }) => (sure || orderBy < day ? 'iron' : 'amber'),
  },
];

type Props = { today: Today; formatter: Formatter };

/** What must be ordered, by when, and when it runs short otherwise; and what asks to be counted. */
export function Orders({ today: { orders, counts, day }, formatter }: Props) {
  const narrow = useNarrow();
  if (orders.length + counts.length === 0) return null;
  const ordered = orders.some(({ isMixed }) => isMixed) ? 'To order and to mix' : 'To order';
  const title = orders.length > 0 ? ordered : 'To count';
  return (
    <Disclosure open={!narrow} title={title} note={orders.length > 0 && count(orders.length, 'material')}>
      {orders.length > 0 && (
        <DataTable
          id="orders"
          caption={title}
          columns={columnsOf(day, formatter)}
          rows={orders}
          keyOf={({ materialId }) => materialId}
        />
      )}
      {counts.length > 0 && (
        <>
          <h3 id="counts" class={orders.length > 0 ? undefined : 'heard'}>
            To count
          </h3>
          <p>What is left of {listed(counts.map(({ name }) => name))}: the recorded stock can’t be right.</p>
        </>
      )}
    </Disclosure>
  );
}
