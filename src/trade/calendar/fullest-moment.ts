type Taking = { startsAt: Date; endsAt: Date; benches: number };

/**
 * The moment from `from` on at which the most benches are taken, by which of them first, and by how many more; undefined where none is.
 * That can only be a start, so only starts need looking at. Half-open: one that ends at a moment takes nothing at it.
 *
 * @param takings by their start
 */
export function fullestMoment<T extends Taking>(from: Date, takings: readonly T[]) {
  let fullest: { benches: number; first: T; more: number } | undefined;
  for (const moment of [from, ...takings.map(({ startsAt }) => startsAt).filter((start) => start > from)]) {
    const then = takings.filter(({ startsAt, endsAt }) => startsAt <= moment && moment < endsAt);
    const benches = then.reduce((sum, taking) => sum + taking.benches, 0);
    const [first, ...rest] = then;
    if (first && benches > (fullest?.benches ?? 0)) fullest = { benches, first, more: rest.length };
  }
  return fullest;
}
