import type { Me } from '../../api/use-me';
import { type Tab, Tabs } from '../../ui/tabs';

const TABS: readonly Tab[] = [
  { to: '/studio', name: 'Settings', right: 'settings:write' },
  { to: '/studio/start', name: 'First steps', right: 'settings:write' },
  { to: '/studio/rooms', name: 'Rooms', right: 'settings:write' },
  { to: '/studio/closed-days', name: 'Closed days', right: 'settings:write' },
  { to: '/studio/calendars', name: 'Calendars', right: 'settings:write' },
  { to: '/studio/web-page', name: 'Web page', right: 'settings:write' },
  { to: '/studio/terms', name: 'VAT and refunds', right: 'settings:write' },
  { to: '/studio/tariffs', name: 'Electricity', right: 'settings:write' },
  { to: '/studio/staff', name: 'Staff', right: 'staff:write' },
  { to: '/studio/account', name: 'Your account', right: 'account:write' },
  { to: '/studio/import', name: 'Import a list', right: 'stock:write' },
  { to: '/studio/sample', name: 'Sample studio', right: 'settings:write' },
];

/** The studio itself, each part on a page of its own. */
export const StudioTabs = ({ me }: { me: Me }) => <Tabs label="The studio" tabs={TABS} me={me} />;
