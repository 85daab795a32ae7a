import './orders.css';
import type { ComponentChild } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Formatter } from '../../../format/formatter';
import { Phrases } from '../../../format/phrases';
import { formatQuantity } from '../../../format/quantity';
import { type At, Page } from '../../../ui/page';
import { ShelfTabs } from '../shelf-tabs';
import { answerOf, isOpen } from './labels';
import { OrderCard } from './order-card';
import { type Order, type Ordering, type Proposal, readOrdering } from './queries';
import { ToOrder } from './suggested-order';

/** Orders */
export function OrdersPage() {
  return (
    <Page question="Orders" tabs={(me) => <ShelfTabs me={me} />} read={readOrdering}>
      {(ordering, at) => (
        <>
          <Orders ordering={ordering} {...at} />
        </>
      )}
    </Page>
  );
}

function Orders({ ordering, me: { today }, formatter }: At & { ordering: Ordering }) {
  const [said, setSaid] = useState('');
  const here = useRef<HTMLParagraphElement>(null);
  useEffect(() => {
    if (said) here.current?.focus(); // the button that was pressed is gone
  }, [said]);
  const { proposal, orders } = ordering;
  const groups = [
    ['Drafts', orders.filter(({ state }) => state === 'drafted')],
    ['On its way', orders.filter(isOpen)],
  ] as const;
  const over = orders.filter((order) => order.state === 'received' || order.state === 'cancelled');
  const card = (order: (typeof orders)[number]) => (
    <OrderCard key={order.id} {...{ order, today, formatter }} onDone={setSaid} />
  );
  return (
    <>
      <p class="answer">
        <Phrases of={answerOf(ordering, today, formatter)} />
      </p>
      {said && (
        <p class="done" role="status" tabIndex={-1} ref={here}>
          {said}
        </p>
      )}
      {proposal.suppliers.map((suggested) => (
        <ToOrder key={suggested.supplierId} {...{ suggested, today, formatter }} onWritten={setSaid} />
      ))}
      <Otherwise proposal={proposal} formatter={formatter} />
      {groups.map(([title, group]) =>
        group.length === 0 ? null : (
          <section key={title}>
            <p class="group">{title}</p>
            {group.map(card)}
          </section>
        ),
      )}
      {over.length > 0 && <Past orders={over} card={card} />}
    </>
  );
}

/** So many past orders are drawn at once: a studio has hundreds after some years. */
const AT_ONCE = 50;

function Past({ orders, card }: { orders: Order[]; card(order: Order): ComponentChild }) {
  const [shown, setShown] = useState(AT_ONCE);
  const more = Math.min(AT_ONCE, orders.length - shown);
  return (
    <details>
      <summary>{orders.length === 1 ? '1 past order' : `${orders.length} past orders`}</summary>
      {orders.slice(0, shown).map(card)}
      {more > 0 && (
        <p class="no-paper">
          The latest {shown} of {orders.length} are shown.{' '}
          <button type="button" class="quiet" onClick={() => setShown(shown + AT_ONCE)}>
            Show {more} more
          </button>
        </p>
      )}
    </details>
  );
}

/** What no order of a supplier brings: to be mixed here, or sold by nobody who is known. */
function Otherwise({ proposal: { toMix, unsold }, formatter }: { proposal: Proposal; formatter: Formatter }) {
  return (
    <>
      {toMix.length > 0 && (
        <section>
          <h2>To mix yourselves</h2>
          <ul class="unsold">
            {toMix.map(({ materialId, name, unit, needQuantity, orderBy }) => (
              <li key={materialId}>
                {formatQuantity(needQuantity, unit, formatter)} of {name}, by {formatter.longDay(orderBy)}:{' '}
                <a href="/shelf/mixes">weigh out a batch</a>
              </li>
            ))}
          </ul>
        </section>
      )}
      {unsold.length > 0 && (
        <section>
          <h2>No supplier is set for these</h2>
          <ul class="unsold">
            {unsold.map(({ materialId, name, unit, needQuantity, orderBy, advice }) => (
              <li key={materialId}>
                {formatQuantity(needQuantity, unit, formatter)} of {name}, by {formatter.longDay(orderBy)}.{' '}
                <small>{advice.text}</small>
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}
