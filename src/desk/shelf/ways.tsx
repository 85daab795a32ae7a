/** What else is asked of the shelf, each on a page of its own. */
const WAYS = [{ to: '/shelf', called: 'Will it do?' }];

/** The line of words under a shelf page's question that leads to the others. */
export function Ways() {
  return (
    <nav class="ways" aria-label="The shelf">
      {WAYS.map(({ to, called }) => (
        <a key={to} href={to} aria-current={to === location.pathname ? 'page' : undefined}>
          {called}
        </a>
      ))}
    </nav>
  );
}
