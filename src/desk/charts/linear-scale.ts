/** Where a value lies on a line of px, from one end to the other. */
export const along =
  (ends: { from: number; to: number }, px: { from: number; to: number }) =>
  (value: number): number =>
    px.from + ((value - ends.from) / (ends.to - ends.from)) * (px.to - px.from);

/** The ends of a line that holds all of some values, with a little room beyond them. */
export function around(values: readonly number[], room: number): { from: number; to: number } {
  const most = Math.max(...values);
  return { from: Math.min(...values) - most * room, to: most + most * room };
}
