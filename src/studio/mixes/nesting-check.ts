import type { RecipeFault } from '../../trade/materials/mix-validation.js';
import type { LatestRecipe } from './queries.js';

/**
 * Mixes are nested once at most: what is a part of a mix may be mixed itself, but of plain materials. More could go in a circle, and
 * nobody would know from a bucket what is in it.
 *
 * @param recipes all of them, with the one that is looked at as it shall be
 */
export function nestingFaults(recipes: readonly LatestRecipe[], own: LatestRecipe): RecipeFault[] {
  const byProduct = new Map(recipes.map((recipe) => [recipe.productId, recipe]));
  const mixedPartOf = (recipe: LatestRecipe) => recipe.partIds.find((id) => byProduct.has(id));
  const nameOf = (id: string | undefined) => byProduct.get(id ?? '')?.name ?? '';
  const faults = own.partIds.flatMap((id, i) => {
    const inner = byProduct.get(id);
    const deeper = inner && inner !== own ? mixedPartOf(inner) : undefined;
    if (deeper === undefined) return [];
    const detail = `is mixed of ${nameOf(deeper)}, which is mixed too: name what ${nameOf(id)} is made of instead`;
    return [{ at: `parts/${i}/materialId`, detail }];
  });
  const outer = recipes.find((recipe) => recipe !== own && recipe.partIds.includes(own.productId));
  const mixed = own.partIds.findIndex((id) => byProduct.has(id));
  if (outer === undefined || mixed === -1) return faults;
  const detail = `is mixed, and ${own.name} is itself a part of ${outer.name}: name what ${nameOf(own.partIds[mixed])} is made of instead`;
  return [...faults, { at: `parts/${mixed}/materialId`, detail }];
}
