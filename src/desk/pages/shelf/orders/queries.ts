import { fetchAllPages } from '../../../api/all-pages';
import { api, Refused, type Schemas } from '../../../api/client';

export type Order = Schemas['SupplyOrder'];
export type Proposal = Schemas['OrderProposal'];
export type Suggested = Schemas['SuggestedSupplier'];
export type Ordering = { proposal: Proposal; orders: Order[] };

/** What should be ordered, and the orders there are, the newest first. */
export async function readOrdering(): Promise<Ordering> {
  const [{ data: proposal }, orders] = await Promise.all([
    api.GET('/api/order-proposal'),
    fetchAllPages('which orders there are', (query) => api.GET('/api/orders', { params: { query } })),
  ]);
  if (!proposal) throw new Refused('unknown', 'The server does not say what to order. Load the page again.');
  return { proposal, orders: orders.reverse() };
}
