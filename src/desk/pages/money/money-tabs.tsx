import type { Me } from '../../api/use-me';
import { type Tab, Tabs } from '../../ui/tabs';

const TABS: readonly Tab[] = [
  { to: '/money', name: 'Who owes', right: 'money:read' },
  { to: '/money/vouchers', name: 'Vouchers', right: 'money:read' },
  { to: '/money/papers', name: 'Papers', right: 'money:read' },
];

/** What else is asked of money, each on a page of its own. */
export const MoneyTabs = ({ me }: { me: Me }) => <Tabs label="Money" tabs={TABS} me={me} />;
