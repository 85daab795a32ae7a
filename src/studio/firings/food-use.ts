import type { Use } from '../../documents/collection-content.js';
import type { Material } from '../materials/contract.js';

/** What a piece's use rests on: what stands on its food surface, and what it went through. */
export type Finish = {
  /** materials on the food surface, layer by layer */
  onFood: readonly Pick<Material, 'name' | 'firingRange' | 'makerStatement'>[];
  /** the top of its last good glaze firing; null where there was none */
  glazedAtC: number | null;
  lustred: boolean;
};

/**
 * What a piece may be used for, and on whose word: never on ours. The words of a glaze's maker count where that glaze alone stands on
 * the food surface, and was fired within the range that its maker gives. Layers are mixtures for which nobody speaks, and so is a
 * surface of which nothing was recorded. (Laboratory tests are not kept yet.)
 */
export function useOf({ onFood, glazedAtC, lustred }: Finish): Use {
  const [glaze, ...more] = onFood;
  const range = glaze?.firingRange;
  const statement = glaze?.makerStatement;
  if (lustred || more.length > 0 || !glaze || !range || !statement || glazedAtC === null) return { kind: 'decorative' };
  if (glazedAtC < range.fromC || glazedAtC > range.toC) return { kind: 'decorative' };
  return { kind: 'statement', quote: statement.quote, glaze: glaze.name, on: statement.statedOn };
}
