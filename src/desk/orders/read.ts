import { api, Refused, type Schemas } from '../client';

export type Order = Schemas['SupplyOrder'];
export type Proposal = Schemas['OrderProposal'];
export type Suggested = Schemas['SuggestedSupplier'];
export type Ordering = { proposal: Proposal; orders: Order[] };

/** The newest orders that a page shows; all stand under /api/orders. */
const SHOWN = 50;
const AT_ONCE = 200;

/** What should be ordered, and the orders there are, the newest first. */
export async function readOrdering(): Promise<Ordering> {
  const { data: proposal } = await api.GET('/api/order-proposal');
  if (!proposal) throw new Refused('unknown', 'The server does not say what to order. Load the page again.');
  const orders: Order[] = [];
  let after: string | undefined;
  do {
    const { data } = await api.GET('/api/orders', { params: { query: { limit: AT_ONCE, ...(after && { after }) } } });
    orders.push(...(data?.items ?? []));
    after = data?.next ?? undefined;
  } while (after);
  return { proposal, orders: orders.reverse().slice(0, SHOWN) };
}
