import type { Me } from '../api/use-me';

export type Tab = { to: string; name: string; right?: Me['rights'][number] };

/** The pages of one noun. Of tabs that lie below one another the longest that fits is the current one. */
export function Tabs({ label, tabs, me }: { label: string; tabs: readonly Tab[]; me: Me }) {
  const path = location.pathname;
  const [current] = tabs.filter(({ to }) => `${path}/`.startsWith(`${to}/`)).sort((a, b) => b.to.length - a.to.length);
  return (
    <nav class="ways" aria-label={label}>
      {tabs
        .filter(({ right }) => !right || me.rights.includes(right))
        .map(({ to, name }) => (
          <a key={to} href={to} aria-current={to === current?.to ? 'page' : undefined}>
            {name}
          </a>
        ))}
    </nav>
  );
}
