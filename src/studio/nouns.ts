import type { Noun } from '../http/noun.js';

/**
 * Every noun of the studio, in the order in which they build on each other: each may import those before it, as `npm run lint` holds by
 * this very list. Its routes, refusals, invariants and jobs follow from its own folder, so adding one adds a line here and no other.
 */
export const NOUNS: readonly Noun[] = [
  (await import('./settings/noun.js')).noun,
  (await import('./people/noun.js')).noun,
  (await import('./staff/noun.js')).noun,
  (await import('./notices/noun.js')).noun,
  (await import('./accounts/noun.js')).noun,
  (await import('./materials/noun.js')).noun,
  (await import('./memberships/noun.js')).noun,
  (await import('./sales/noun.js')).noun,
  (await import('./kilns/noun.js')).noun,
  (await import('./mixes/noun.js')).noun,
  (await import('./tiles/noun.js')).noun,
  (await import('./courses/noun.js')).noun,
  (await import('./calendars/noun.js')).noun,
  (await import('./bookings/noun.js')).noun,
  (await import('./web-page/noun.js')).noun,
  (await import('./place-requests/noun.js')).noun,
  (await import('./ware/noun.js')).noun,
  (await import('./firings/noun.js')).noun,
  (await import('./calendar-days/noun.js')).noun,
  (await import('./pricing/noun.js')).noun,
  (await import('./kiln-loads/noun.js')).noun,
  (await import('./enrolment-outlook/noun.js')).noun,
  (await import('./stock-outlook/noun.js')).noun,
  (await import('./course-results/noun.js')).noun,
  (await import('./orders/noun.js')).noun,
  (await import('./merges/noun.js')).noun,
  (await import('./imports/noun.js')).noun,
  (await import('./reports/noun.js')).noun,
  (await import('./sample/noun.js')).noun,
];

export const INVARIANTS = NOUNS.flatMap(({ invariants = [] }) => invariants);
