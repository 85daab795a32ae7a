import { decimalIn, wholeIn } from '../maths/number.js';
import { Decimal, roundHalfUp, roundKeepingTotal, splitExactly } from '../money/money.js';
import { brongniartDryGramsPerLitre } from './glaze.js';

/** The relative density of dry glaze where nobody measured it: an assumption, that of the handbook's table (2.5 to 2.65 is usual). */
export const ASSUMED_SOLIDS_DENSITY = '2.6';
const SHARE_DECIMALS = 4;
const UNIT_DECIMALS = 9;
/** Ten tonnes, in grams or ml: more is a slip of the keys, or of a density. */
const MOST = 10_000_000;

/** What a material is, for mixing: dry where it is in g without water; slurry where it is in ml with what a ml holds of dry matter. */
export interface MixMaterial {
  unit: 'g' | 'ml' | 'piece';
  /** by damp weight */
  waterPercent: string | null;
  dryGramsPerMl: string | null;
}
export interface MixRecipe {
  /** of what the shares speak: of dry matter, or of the parts as they stand in the bucket */
  weights: 'dry' | 'wet';
  parts: readonly (MixMaterial & { share: string })[];
  product: MixMaterial;
  /** what a litre shall weigh, where the product is a dry powder that is slaked down */
  litreGrams: number | null;
  /** relative to water; null: not measured */
  solidsDensity: string | null;
}

export interface WeighedPart {
  /** in the recipe's own terms; they add up to the batch */
  grams: number;
  /** what goes on the scale */
  weighGrams: number;
  /** what leaves the shelf, in the part's unit */
  quantity: number;
}
export interface WeighedBatch {
  parts: WeighedPart[];
  dryGrams: string;
  /** ml to add; where `tooWetMl` is above 0 none, and that much clear water to take off once it has settled */
  addWaterMl: number;
  tooWetMl: number;
  /** what a litre weighs then; null where it stays a powder or a paste */
  litreGrams: number | null;
  /** in the product's unit */
  yieldQuantity: number;
}

const densityOf = (recipe: Pick<MixRecipe, 'solidsDensity'>) =>
  decimalIn(recipe.solidsDensity ?? ASSUMED_SOLIDS_DENSITY, 'The relative density of the solids', 1.1, 10);

/** What a ml of slurry weighs that holds d g of dry matter of density G: 1 + d (G - 1) / G, which is Brongniart's rule turned round. */
function gramsPerMl(dryGramsPerMl: string, density: Decimal): Decimal {
  return new Decimal(dryGramsPerMl).times(density.minus(1)).div(density).plus(1);
}

/** What a ml of it weighs; null where it is kept in grams. */
const gramsPerUnit = ({ unit, dryGramsPerMl }: MixMaterial, density: Decimal): Decimal | null =>
  unit === 'ml' && dryGramsPerMl !== null ? gramsPerMl(dryGramsPerMl, density) : null;

/** How much of a gram of it is dry matter. */
function dryFraction({ unit, waterPercent, dryGramsPerMl }: MixMaterial, density: Decimal): Decimal {
  if (unit === 'ml' && dryGramsPerMl !== null)
    return new Decimal(dryGramsPerMl).div(gramsPerMl(dryGramsPerMl, density));
  if (unit === 'g') return new Decimal(100).minus(decimalIn(waterPercent ?? 0, 'Water in percent', 0, 99)).div(100);
  throw new RangeError('What is counted in pieces, or in ml without its dry grams per ml, can’t be weighed out.');
}

/**
 * Weighs out a batch.
 *
 * @param grams of the batch in the recipe's terms: dry matter, or the parts as they stand
 * @throws RangeError where a part can't be weighed, is less than half a gram of this batch, or comes to more than ten tonnes
 */
export function weighOut(recipe: MixRecipe, grams: number): WeighedBatch {
  wholeIn(grams, 'The batch in grams', 1, MOST);
  const density = densityOf(recipe);
  const stated = splitExactly(
    grams,
    recipe.parts.map(({ share }) => wholeShare(share)),
  );
  if (stated.some((part) => part === 0))
    throw new RangeError('A part of so small a batch is less than a scale in grams shows. Make more at once.');
  const parts = recipe.parts.map((part, i) => weighed(part, stated[i] ?? 0, recipe.weights, density));
  const dry = parts.reduce((sum, part) => sum.plus(part.dry), new Decimal(0));
  const brought = parts.reduce((sum, part) => sum.plus(part.weighGrams).minus(part.dry), new Decimal(0));
  const perDryGram = waterPerDryGram(recipe, density);
  const missing = perDryGram === null ? 0 : roundHalfUp(dry.times(perDryGram).minus(brought));
  const yieldQuantity = Math.max(1, roundHalfUp(yieldOf(recipe.product, dry)));
  const largest = Math.max(
    yieldQuantity,
    missing,
    ...parts.flatMap(({ weighGrams, quantity }) => [weighGrams, quantity]),
  );
  if (largest > MOST)
    throw new RangeError(
      'That comes to more than ten tonnes. Make less, or look whether a ml of it really has so little dry matter.',
    );
  return {
    parts: parts.map(({ dry: _, ...shown }) => shown),
    dryGrams: dry.toDecimalPlaces(1).toString(),
    addWaterMl: Math.max(0, missing),
    tooWetMl: Math.max(0, 0 - missing),
    litreGrams: targetLitreGrams(recipe),
    yieldQuantity,
  };
}

function wholeShare(share: string): number {
  const scaled = decimalIn(share, 'The share of a part', 0.0001, 1_000_000).times(10 ** SHARE_DECIMALS);
  return scaled.toDecimalPlaces(0).toNumber();
}

function weighed(part: MixMaterial, grams: number, weights: MixRecipe['weights'], density: Decimal) {
  const fraction = dryFraction(part, density);
  const weighGrams = weights === 'wet' ? grams : roundHalfUp(new Decimal(grams).div(fraction));
  const inMl = gramsPerUnit(part, density);
  const quantity = inMl === null ? weighGrams : Math.max(1, roundHalfUp(new Decimal(weighGrams).div(inMl)));
  // the dry matter by what was stated: the scale's rounding of the wet weight isn't in the pot twice
  const dry = weights === 'dry' ? new Decimal(grams) : new Decimal(weighGrams).times(fraction);
  return { grams, weighGrams, quantity, dry };
}

/** Water for a gram of dry matter: (L - W) / W of a slurry of L g a litre with W g dry in it; p / (100 - p) of a paste; null: a powder. */
function waterPerDryGram(recipe: MixRecipe, density: Decimal): Decimal | null {
  const { product, litreGrams } = recipe;
  if (product.unit === 'ml' && product.dryGramsPerMl !== null)
    return new Decimal(1).div(product.dryGramsPerMl).minus(new Decimal(1).div(density));
  if (litreGrams !== null) {
    const dry = brongniartDryGramsPerLitre(litreGrams, density.toString());
    return new Decimal(litreGrams).minus(dry).div(dry);
  }
  if (product.waterPercent === null) return null;
  return new Decimal(product.waterPercent).div(new Decimal(100).minus(product.waterPercent));
}

/** What a litre of the mix shall weigh: as its product's dry matter per ml asks for, or as the recipe says; null where neither does. */
function targetLitreGrams(recipe: Pick<MixRecipe, 'product' | 'litreGrams' | 'solidsDensity'>): number | null {
  const { unit, dryGramsPerMl } = recipe.product;
  if (unit !== 'ml' || dryGramsPerMl === null) return recipe.litreGrams;
  const litreGrams = roundHalfUp(gramsPerMl(dryGramsPerMl, densityOf(recipe)).times(1000));
  return litreGrams > 1000 ? litreGrams : null; // so thin that a scale in grams takes it for water
}

function yieldOf({ unit, waterPercent, dryGramsPerMl }: MixMaterial, dry: Decimal): Decimal {
  if (unit === 'ml' && dryGramsPerMl !== null) return dry.div(dryGramsPerMl);
  return dry.times(100).div(new Decimal(100).minus(waterPercent ?? 0));
}

/**
 * What a unit of the mix takes of each part, in the part's unit: the recipe without the rounding of a batch. Water is none of them.
 *
 * @returns decimal strings to 9 places, in the order of the parts
 * @throws RangeError where a part can't be weighed
 */
export function partsPerUnit(recipe: MixRecipe): string[] {
  const density = densityOf(recipe);
  const parts = recipe.parts.map((part) => {
    const stated = new Decimal(wholeShare(part.share));
    const fraction = dryFraction(part, density);
    const weigh = recipe.weights === 'wet' ? stated : stated.div(fraction);
    return { quantity: weigh.div(gramsPerUnit(part, density) ?? 1), dry: weigh.times(fraction) };
  });
  const units = yieldOf(
    recipe.product,
    parts.reduce((sum, { dry }) => sum.plus(dry), new Decimal(0)),
  );
  return parts.map(({ quantity }) => quantity.div(units).toDecimalPlaces(UNIT_DECIMALS).toFixed());
}

/**
 * What the parts of a batch cost, rounded so that they add up to the whole.
 *
 * @param ratesMinor minor units per one of the part's unit; null where nobody knows
 * @returns totalMinor null where a part has no price
 */
export function batchCost(
  parts: readonly WeighedPart[],
  ratesMinor: readonly (string | null)[],
): { totalMinor: number | null; partsMinor: (number | null)[] } {
  const known = parts.flatMap(({ quantity }, i) => {
    const rate = ratesMinor[i] ?? null;
    return rate === null ? [] : [{ i, exact: new Decimal(rate).times(quantity) }];
  });
  const { totalMinor, partsMinor } = roundKeepingTotal(known.map(({ exact }) => exact));
  const byPart = new Map(known.map(({ i }, at) => [i, partsMinor[at] ?? 0]));
  return {
    totalMinor: known.length === parts.length ? totalMinor : null,
    partsMinor: parts.map((_, i) => byPart.get(i) ?? null),
  };
}
