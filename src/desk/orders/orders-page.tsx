import '../look/orders.css';
import { useEffect, useRef, useState } from 'preact/hooks';
import { type At, Page } from '../page';
import { Phrases } from '../phrases';
import { Ways } from '../shelf/ways';
import { amount } from '../shelf/words';
import type { Tell } from '../tell';
import { OrderCard } from './order-card';
import { type Ordering, type Proposal, readOrdering } from './read';
import { ToOrder } from './to-order';
import { answerOf, isOpen } from './words';

/** What should be ordered, and what is on its way? */
export function OrdersPage() {
  return (
    <Page question="What should be ordered, and what is on its way?" read={readOrdering}>
      {(ordering, at) => (
        <>
          <Ways me={at.me} />
          <Orders ordering={ordering} {...at} />
        </>
      )}
    </Page>
  );
}

function Orders({ ordering, me: { today }, tell, again }: At & { ordering: Ordering }) {
  const [said, setSaid] = useState('');
  const here = useRef<HTMLParagraphElement>(null);
  useEffect(() => {
    if (said) here.current?.focus(); // the button that was pressed is gone
  }, [said]);
  const done = async (what: string) => {
    await again();
    setSaid(what);
  };
  const { proposal, orders } = ordering;
  const groups = [
    ['Written, not placed', orders.filter(({ state }) => state === 'drafted')],
    ['On its way', orders.filter(isOpen)],
  ] as const;
  const over = orders.filter((order) => order.state === 'received' || order.state === 'cancelled');
  const card = (order: (typeof orders)[number]) => (
    <OrderCard key={order.id} {...{ order, today, tell }} onDone={done} />
  );
  return (
    <>
      <p class="answer">
        <Phrases of={answerOf(ordering, today, tell)} />
      </p>
      {said && (
        <p class="done" role="status" tabIndex={-1} ref={here}>
          {said}
        </p>
      )}
      {proposal.suppliers.map((suggested) => (
        <ToOrder key={suggested.supplierId} {...{ suggested, today, tell }} onWritten={done} />
      ))}
      <Otherwise proposal={proposal} tell={tell} />
      {groups.map(([title, group]) =>
        group.length === 0 ? null : (
          <section key={title}>
            <p class="group">{title}</p>
            {group.map(card)}
          </section>
        ),
      )}
      {over.length > 0 && (
        <details>
          <summary>{over.length === 1 ? 'One order that is over' : `${over.length} orders that are over`}</summary>
          {over.map(card)}
        </details>
      )}
    </>
  );
}

/** What no order of a supplier brings: to be mixed here, or sold by nobody who is known. */
function Otherwise({ proposal: { toMix, unsold }, tell }: { proposal: Proposal; tell: Tell }) {
  return (
    <>
      {toMix.length > 0 && (
        <section>
          <h2>To mix yourselves</h2>
          <ul class="unsold">
            {toMix.map(({ materialId, name, unit, needQuantity, orderBy }) => (
              <li key={materialId}>
                {amount(needQuantity, unit, tell)} of {name}, by {tell.longDay(orderBy)}:{' '}
                <a href="/shelf/mixes">weigh out a batch</a>
              </li>
            ))}
          </ul>
        </section>
      )}
      {unsold.length > 0 && (
        <section>
          <h2>Nobody is known to sell these</h2>
          <ul class="unsold">
            {unsold.map(({ materialId, name, unit, needQuantity, orderBy, advice }) => (
              <li key={materialId}>
                {amount(needQuantity, unit, tell)} of {name}, by {tell.longDay(orderBy)}. <small>{advice}</small>
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}
