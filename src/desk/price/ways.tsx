const WAYS = [
  ['/price', 'What must it cost?'],
  ['/price/plans', 'Plans'],
] as const;

/** The line of words under a price page's question: a price goes by a plan, which stands on pages of its own. */
export function PriceWays() {
  const onPlans = location.pathname.startsWith('/price/plans');
  return (
    <nav class="ways" aria-label="Prices and plans">
      {WAYS.map(([to, called]) => (
        <a key={to} href={to} aria-current={onPlans === (to === '/price/plans') ? 'page' : undefined}>
          {called}
        </a>
      ))}
    </nav>
  );
}
