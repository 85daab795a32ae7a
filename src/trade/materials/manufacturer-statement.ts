export const GLAZING_METHODS = ['brushed', 'dipped', 'poured', 'sprayed'] as const;
export type GlazingMethod = (typeof GLAZING_METHODS)[number];

/** What a manufacturer's statement on use with food asks for, each null where it asks for nothing of the kind. */
export interface StatementAsks {
  coats: { least: number; most: number } | null;
  way: GlazingMethod | null;
  /** of the glaze firing, in °C; null: where the glaze matures */
  firing: { fromC: number; toC: number } | null;
}

/** One coating on its own, and the glaze firings that it went through. */
export interface AppliedGlaze {
  coats: number;
  /** null: nobody noted it */
  way: GlazingMethod | null;
  /** where it matures, in °C */
  firingRange: { fromC: number; toC: number } | null;
  /** the top of each of its glaze firings in °C, the last one last */
  topsC: readonly number[];
}

/**
 * Whether a coating is exactly what a statement speaks of. What nobody noted counts as not so: it can't be compared. A firing that
 * stopped short may be followed by a full one; one that went too hot stays with the glaze.
 */
export function isAsStated(asks: StatementAsks, { coats, way, firingRange, topsC }: AppliedGlaze): boolean {
  if (asks.coats !== null && (coats < asks.coats.least || coats > asks.coats.most)) return false;
  if (asks.way !== null && way !== asks.way) return false;
  const range = asks.firing ?? firingRange;
  const last = topsC.at(-1);
  return range !== null && last !== undefined && last >= range.fromC && topsC.every((topC) => topC <= range.toC);
}
