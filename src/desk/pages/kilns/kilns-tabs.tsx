import type { Me } from '../../api/use-me';
import { type Tab, Tabs } from '../../ui/tabs';

const TABS: readonly Tab[] = [
  { to: '/kilns', name: 'Firings', right: 'firings:read' },
  { to: '/kilns/list', name: 'Kilns and schedules', right: 'firings:read' },
  { to: '/kilns/equipment', name: 'Add a kiln', right: 'settings:write' },
];

/** What else is asked of kilns, each on a page of its own. */
export const KilnsTabs = ({ me }: { me: Me }) => <Tabs label="Kilns" tabs={TABS} me={me} />;
