/**
 * Reads a day that came from outside.
 *
 * @throws RangeError where it is no date written YYYY-MM-DD
 */
export function parseDay(day: string): string {
  // without the date itself 2026-02-31 would pass, and sort into a month that it isn't in
  const date = new Date(`${day}T00:00:00Z`);
  if (!/^\d{4}-\d\d-\d\d$/.test(day) || Number.isNaN(date.getTime()) || date.toISOString().slice(0, 10) !== day) {
    throw new RangeError(`"${day}" is not a date. Write it as YYYY-MM-DD.`);
  }
  return day;
}
