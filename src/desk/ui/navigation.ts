import type { Me } from '../api/use-me';

/** A noun of the owner's, and the right without which its page would be a refusal. */
export type Destination = { to: string; name: string; right: Me['rights'][number]; phone?: true };

/** By the owner's nouns; a phone shows four at a thumb's reach and the rest behind "More". */
export const DESTINATIONS: readonly Destination[] = [
  { to: '/', name: 'Today', right: 'ware:read', phone: true },
  { to: '/courses', name: 'Courses', right: 'courses:read', phone: true },
  { to: '/people', name: 'People', right: 'people:read' },
  { to: '/ware', name: 'Ware', right: 'ware:read', phone: true },
  { to: '/kilns', name: 'Kilns', right: 'firings:read', phone: true },
  { to: '/shelf', name: 'Shelf', right: 'stock:read' },
  { to: '/money', name: 'Money', right: 'money:read' },
  { to: '/letters', name: 'Letters', right: 'money:read' },
  { to: '/studio', name: 'Studio', right: 'people:read' },
];

/** Whether an address is below a destination. */
export const isAt = (to: string, path: string): boolean =>
  to === '/' ? path === '/' : `${path}/`.startsWith(`${to}/`);
