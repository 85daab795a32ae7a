import type { Me } from '../../api/use-me';
import { type Tab, Tabs } from '../../ui/tabs';

const TABS: readonly Tab[] = [
  { to: '/people', name: 'Everyone' },
  { to: '/people/members', name: 'Members', right: 'money:read' },
  { to: '/people/members/kinds', name: 'Kinds of membership', right: 'money:read' },
];

/** Who is known, and who of them is a member. */
export const PeopleTabs = ({ me }: { me: Me }) => <Tabs label="People" tabs={TABS} me={me} />;
