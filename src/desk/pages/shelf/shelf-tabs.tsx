import type { Me } from '../../api/use-me';
import { type Tab, Tabs } from '../../ui/tabs';

const TABS: readonly Tab[] = [
  { to: '/shelf', name: 'Is there enough?', right: 'stock:read' },
  { to: '/shelf/count', name: 'Count', right: 'stock:write' },
  { to: '/shelf/orders', name: 'Orders', right: 'money:read' },
  { to: '/shelf/sales', name: 'Sell', right: 'money:write' },
  { to: '/shelf/mixes', name: 'Mixes', right: 'stock:read' },
  { to: '/shelf/tiles', name: 'Test tiles', right: 'stock:read' },
  { to: '/shelf/materials', name: 'Materials', right: 'stock:read' },
  { to: '/shelf/suppliers', name: 'Suppliers', right: 'money:read' },
];

/** What else is asked of the shelf, each on a page of its own. */
export const ShelfTabs = ({ me }: { me: Me }) => <Tabs label="The shelf" tabs={TABS} me={me} />;
