/**
 * The middles of labels on one line, each as near to its wish as may be: pushed apart where two would touch, and back where the last
 * would be cut off.
 *
 * @param wished the middles in ascending order; `labelWidth` and `width` in the same unit
 */
export function placeLabels(wished: readonly number[], labelWidth: number, width: number): number[] {
  const apart: number[] = [];
  for (const wish of wished) apart.push(Math.max(wish, (apart.at(-1) ?? -labelWidth / 2) + labelWidth));
  const at: number[] = [];
  for (const wish of apart.reverse()) at.unshift(Math.min(wish, (at[0] ?? width + labelWidth / 2) - labelWidth));
  return at;
}
