import type { MaterialKind } from './contract.js';

/** What lies on ware as a layer. All of it counts where a manufacturer's statement speaks of their glaze alone. */
const COATINGS: ReadonlySet<MaterialKind> = new Set([
  ...(['glaze', 'slip', 'underglaze', 'oxide', 'stain', 'glass', 'lustre', 'wax'] as const),
]);
export const isCoating = (kind: MaterialKind): boolean => COATINGS.has(kind);

/**
 * Powders that a recipe takes alike. One may be called another also once lots and recipes go by it: feldspar, say, had to be entered
 * as a frit before there were raw materials.
 */
const POWDERS: ReadonlySet<MaterialKind> = new Set(['rawMaterial', 'frit', 'oxide', 'stain'] as const);
export const arePowders = (...kinds: MaterialKind[]): boolean => kinds.every((kind) => POWDERS.has(kind));

/** "raw material" of "rawMaterial". */
export const kindInWords = (kind: string): string => kind.replace(/[A-Z]/g, (capital) => ` ${capital.toLowerCase()}`);
