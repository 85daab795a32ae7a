import type { Me } from '../../api/use-me';
import { type Tab, Tabs } from '../../ui/tabs';

const TABS: readonly Tab[] = [
  { to: '/courses', name: 'Courses', right: 'courses:read' },
  { to: '/courses/calendar', name: 'Calendar', right: 'courses:read' },
  { to: '/courses/places', name: 'Places left', right: 'money:read' },
  { to: '/courses/plans', name: 'Plans', right: 'planning:read' },
  { to: '/courses/price', name: 'Prices', right: 'planning:read' },
  { to: '/courses/results', name: 'Planned against actual', right: 'planning:read' },
];

/** What else is asked of courses, each on a page of its own. */
export const CoursesTabs = ({ me }: { me: Me }) => <Tabs label="Courses" tabs={TABS} me={me} />;
