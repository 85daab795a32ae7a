import { count, type Formatter, listed } from '../../format/formatter';
import { Disclosure } from '../../ui/disclosure';
import { useNarrow } from '../../ui/use-narrow';
import { by, type Order, quantityOf, type Today } from './labels';

/** By whom it runs short: those who have booked, as many as are expected, or more than that. */
function howSure({ sure, shortOn }: Order): string {
  if (sure) return 'on current bookings';
  return shortOn ? 'if as many book as expected' : 'only if it sells out (1 in 10)';
}

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
        <table class="brief orders" id="orders">
          <caption class="heard">{title}</caption>
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col">How much</th>
              <th scope="col">Runs out</th>
              <th scope="col" class="number">
                By
              </th>
            </tr>
          </thead>
          <tbody>
            {orders.map((order) => (
              <tr key={order.materialId}>
                <th scope="row">{order.name}</th>
                <td class="what">
                  {quantityOf(order, formatter)}
                  {order.isMixed && <small> to mix</small>}
                  {!order.isMixed && order.packs > 1 && <small> in {order.packs} packs</small>}
                </td>
                <td class="what">
                  <span class="said">Runs out: </span>
                  {order.shortOn ? formatter.day(order.shortOn, day) : 'perhaps'}
                  <small> {howSure(order)}</small>
                </td>
                <td class={order.sure || order.orderBy < day ? 'number iron' : 'number amber'}>
                  {by(order.orderBy, day, formatter)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
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
