import type { Me } from '../../api/use-me';
import { type Tab, Tabs } from '../../ui/tabs';

const TABS: readonly Tab[] = [
  { to: '/kilns', name: 'Firings', right: 'firings:read' },
  { to: '/kilns/equipment', name: 'Kilns and equipment', right: 'firings:read' },
];

/** What else is asked of kilns, each on a page of its own. */
export const KilnsTabs = ({ me }: { me: Me }) => <Tabs label="Kilns" tabs={TABS} me={me} />;
