import { Decimal } from '../money/money.js';
import { ASSUMED_SOLIDS_DENSITY, type MixMaterial, type MixRecipe } from './mix.js';

export interface RecipeFault {
  /** the field that is wrong, such as parts/2/share */
  at: string;
  detail: string;
}
type Part = MixRecipe['parts'][number] & { id: string };

/**
 * What keeps a recipe from being mixed, each with what to do about it; empty where nothing does.
 *
 * @param inPercent the shares are meant as percent, so that they must make 100
 */
export function validateRecipe(
  recipe: Pick<MixRecipe, 'litreGrams' | 'solidsDensity'> & {
    inPercent: boolean;
    parts: readonly Part[];
    product: MixMaterial & { id: string };
  },
): RecipeFault[] {
  const { parts, product, litreGrams } = recipe;
  const density = recipe.solidsDensity ?? ASSUMED_SOLIDS_DENSITY;
  const faults: RecipeFault[] = [];
  if (parts.length === 0) faults.push({ at: 'parts', detail: 'must have at least one material' });
  for (const [i, part] of parts.entries()) {
    if (part.id === product.id) faults.push({ at: `parts/${i}/materialId`, detail: 'can’t be what is mixed itself' });
    else if (parts.findIndex(({ id }) => id === part.id) !== i)
      faults.push({ at: `parts/${i}/materialId`, detail: 'is in the recipe already: add the two shares together' });
    const unfit = unweighable(part, density);
    if (unfit !== null) faults.push({ at: `parts/${i}/materialId`, detail: unfit });
  }
  const percent = parts.reduce((sum, { share }) => sum.plus(share), new Decimal(0));
  if (recipe.inPercent && parts.length > 0 && !percent.eq(100))
    faults.push({
      at: 'parts',
      detail: `add up to ${percent}%, not to 100%: correct them, or write them as parts by weight, where colour comes on top`,
    });
  const unfit = unweighable(product, density);
  if (unfit !== null) faults.push({ at: 'productId', detail: unfit });
  if (litreGrams !== null && new Decimal(density).times(1000).lte(litreGrams))
    faults.push({ at: 'litreGrams', detail: 'is as much as a litre of the dry matter itself weighs: aim for less' });
  if (litreGrams !== null && (product.unit === 'ml' || product.waterPercent !== null))
    faults.push({
      at: 'litreGrams',
      detail: 'must be left out: what is in a ml, or the water, of the mixed material says it already',
    });
  return faults;
}

function unweighable({ unit, dryGramsPerMl }: MixMaterial, density: string): string | null {
  if (unit === 'piece') return 'is counted in pieces and can’t be weighed: choose what is in g or ml';
  if (unit === 'ml' && dryGramsPerMl === null)
    return 'is in ml and nobody has said how much dry matter is in one: dry 100 ml, weigh what is left, and enter it';
  if (unit === 'ml' && new Decimal(dryGramsPerMl ?? 0).gte(density))
    return 'has more dry matter in a ml than fits in one: weigh what is left of 100 ml once more';
  return null;
}
