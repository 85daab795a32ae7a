import { type Formatter, listed } from '../../format/formatter';
import { by, type Order, quantityOf, type Today } from './labels';

/** By whom it runs short: those who have booked, as many as are expected, or more than that. */
function howSure({ sure, shortOn }: Order): string {
  if (sure) return 'by bookings alone';
  return shortOn ? 'if as many book as are expected' : 'once in ten times, if many book';
}

type Props = { today: Today; formatter: Formatter };

/** What must be ordered, by when, and when it runs short otherwise; and what asks to be counted. */
export function Orders({ today: { orders, counts, day }, formatter }: Props) {
  if (orders.length + counts.length === 0) return null;
  return (
    <section>
      {orders.length > 0 && (
        <table class="brief orders" id="orders">
          <caption>{orders.some(({ isMixed }) => isMixed) ? 'To order and to mix' : 'To order'}</caption>
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col">How much</th>
              <th scope="col">Runs short</th>
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
                  <span class="said">Runs short: </span>
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
          <h3 id="counts">To count</h3>
          <p>What is left of {listed(counts.map(({ name }) => name))}: what the books say can’t be right.</p>
        </>
      )}
    </section>
  );
}
