import { type Decimal, decimalIn } from '../maths/number.js';

const GRAMS_OF_A_LITRE_OF_WATER = 1000;

/**
 * Dry glaze for an area: area * coating * (1 + waste).
 *
 * @param gramsPerDm2 of the finished coating, all coats together: the studio's own figure, from weighing a tile before
 *                    and after (published ones, derived, spread from about 2.6 to 6)
 * @returns dry grams
 */
export function glazeDryGrams(coat: { areaDm2: number | string; gramsPerDm2: string; wastePercent: string }): string {
  const waste = decimalIn(coat.wastePercent, 'Waste in percent', 0, 500).div(100);
  return decimalIn(coat.areaDm2, 'The area in dm²', 0, 100_000)
    .times(decimalIn(coat.gramsPerDm2, 'Dry grams per dm²', 0, 100))
    .times(waste.plus(1))
    .toString();
}

function litreWeight(grams: number | string): Decimal {
  return decimalIn(grams, 'The weight of a litre of slurry in grams', GRAMS_OF_A_LITRE_OF_WATER, 4000);
}

/**
 * Dry matter in a slurry: W = G (L - 1000) / (G - 1) (A. Brongniart, Traité des Arts Céramiques vol. 1, 1854, p. 249).
 * The solids fill room too: "weight above water" alone would find too little.
 *
 * @param litreWeightGrams L, what a litre of the slurry weighs
 * @param solidsDensity    G, relative to water: 2.5 to 2.65 for most glazes
 * @returns dry grams per litre
 * @throws RangeError where a litre weighs less than water, or as much as its solids would
 */
export function brongniartDryGramsPerLitre(litreWeightGrams: number | string, solidsDensity: string): string {
  const density = decimalIn(solidsDensity, 'The relative density of the solids', 1.1, 10);
  const weight = litreWeight(litreWeightGrams);
  if (weight.gte(density.times(GRAMS_OF_A_LITRE_OF_WATER))) {
    throw new RangeError('A litre of slurry cannot weigh as much as a litre of its solids. Weigh it again.');
  }
  return density.times(weight.minus(GRAMS_OF_A_LITRE_OF_WATER)).div(density.minus(1)).toString();
}

/**
 * Water that brings a slurry to a target weight: V (L - T) / (T - 1000), since water and slurry keep their volumes.
 *
 * @returns millilitres to add; negative: so much clear water to take off once the glaze has settled
 */
export function waterToReachMillilitres(slurry: {
  millilitres: number | string;
  litreWeightGrams: number | string;
  targetLitreWeightGrams: number | string;
}): string {
  const target = litreWeight(slurry.targetLitreWeightGrams);
  if (target.lte(GRAMS_OF_A_LITRE_OF_WATER)) {
    throw new RangeError('No amount of water makes a glaze as light as water. Aim higher than 1000 g per litre.');
  }
  return decimalIn(slurry.millilitres, 'The slurry in millilitres', 0, 10_000_000)
    .times(litreWeight(slurry.litreWeightGrams).minus(target))
    .div(target.minus(GRAMS_OF_A_LITRE_OF_WATER))
    .toString();
}

/** How much slurry holds so much dry glaze, by the density that was measured on the bucket or jar. */
export function millilitresFromDryGrams(dryGrams: number | string, dryGramsPerMillilitre: string): string {
  return decimalIn(dryGrams, 'The dry glaze in grams', 0, 10_000_000)
    .div(decimalIn(dryGramsPerMillilitre, 'Dry grams per millilitre', 0.001, 10))
    .toString();
}
