import type { Use } from '../../documents/collection-content.js';
import { isAsStated } from '../../trade/materials/manufacturer-statement.js';
import type { FiringKind } from '../kilns/contract.js';
import type { Material } from '../materials/contract.js';
import type { StandingLayer } from '../ware/service.js';

export type FoodLayer = Pick<StandingLayer, 'coats' | 'way' | 'firingsBefore'> & {
  material: Pick<Material, 'name' | 'kind' | 'firingRange' | 'manufacturerStatement'>;
  /** mixed here: nobody speaks for that */
  homeMixed: boolean;
};

/** What a piece's use rests on: what lies on its food surface, and what it went through. */
export type Finish = {
  /** from below, whatever it is: an underglaze, an oxide or wax as much as a glaze */
  onFood: readonly FoodLayer[];
  /** every firing that it came out of, the last one last */
  firings: readonly { kind: FiringKind; topC: number; outcome: 'good' | 'refire' | 'broken'; failed: boolean }[];
  /** it was bisqued, here or before it came */
  bisqued: boolean;
  /** it came in glazed by somebody else: what lies beneath is not known */
  cameGlazed: boolean;
  /** lustre lies on it anywhere */
  lustred: boolean;
};

/**
 * What a piece may be used for, and on whose word: never on ours. The words of a glaze's manufacturer count where that glaze alone
 * lies on the food surface and all is exactly as they state: the number of coats, the way of applying, the firing. Whatever nobody
 * recorded counts as otherwise: a glaze beneath it, a firing that failed and may have run too hot, a single firing of raw ware, a
 * statement of which nobody entered what it asks for. (Laboratory tests are not kept yet.)
 */
export function useOf({ onFood, firings, bisqued, cameGlazed, lustred }: Finish): Use {
  const decorative = { kind: 'decorative' } as const;
  const [layer, ...more] = onFood;
  if (!layer || more.length > 0 || lustred || cameGlazed || !bisqued) return decorative;
  const { material, coats, way, firingsBefore } = layer;
  const statement = material.manufacturerStatement;
  if (material.kind !== 'glaze' || layer.homeMixed || !statement?.asks) return decorative;
  const [before, after] = [firings.slice(0, firingsBefore), firings.slice(firingsBefore)];
  if (before.some(({ kind }) => kind !== 'bisque')) return decorative;
  if (after.some(({ kind, failed }) => kind !== 'glaze' || failed) || after.at(-1)?.outcome !== 'good')
    return decorative;
  const topsC = after.map(({ topC }) => topC);
  if (!isAsStated(statement.asks, { coats, way, firingRange: material.firingRange, topsC })) return decorative;
  return { kind: 'statement', quote: statement.quote, glaze: material.name, on: statement.statedOn };
}
