import type { Schemas } from '../client';

type Me = Schemas['Me'];

/** What else is asked of the shelf, each on a page of its own, and the right without which that page would be a refusal. */
const WAYS: { to: string; called: string; right: Me['rights'][number] }[] = [
  { to: '/shelf', called: 'Will it do?', right: 'stock:read' },
  { to: '/shelf/count', called: 'Count', right: 'stock:write' },
  { to: '/shelf/orders', called: 'Orders', right: 'money:read' },
  { to: '/shelf/sales', called: 'Sell', right: 'money:write' },
  { to: '/shelf/mixes', called: 'Mixes', right: 'stock:read' },
  { to: '/shelf/tiles', called: 'Test tiles', right: 'stock:read' },
  { to: '/shelf/bring', called: 'Bring a list', right: 'stock:write' },
];

/** The line of words under a shelf page's question that leads to the others. */
export function Ways({ me }: { me: Me }) {
  return (
    <nav class="ways" aria-label="The shelf">
      {WAYS.filter(({ right }) => me.rights.includes(right)).map(({ to, called }) => (
        <a key={to} href={to} aria-current={to === location.pathname ? 'page' : undefined}>
          {called}
        </a>
      ))}
    </nav>
  );
}
