import { describe, expect, it } from 'vitest';
import { brongniartDryGramsPerLitre, glazeDryGrams } from '../../src/trade/materials/glaze.js';
import {
  COATING_GRAMS_PER_DM2,
  coatingOutside,
  mostClayGrams,
  usualWetGrams,
} from '../../src/trade/materials/usual-amounts.js';

const POUND = 453.59237;
const inches = (width: number) => ({ widthMm: width * 25.4, depthMm: width * 25.4, heightMm: 50 });

describe('a finished coating', () => {
  // Source: a staff post of an art shop, 8 Sep 2010, http://www.wetcanvas.com/forums/archive/index.php/t-687461.html: a pint covers
  // 16 tiles of 12 in. Read. That is 473 ml on 148.6 dm², 2.6 g dry for each dm² at 1.5 and 2.6 of the solids: derived.
  it('is at least what a published pint comes to on sixteen tiles', () => {
    const dryGrams = (473.176 / 1000) * Number(brongniartDryGramsPerLitre(1500, '2.6'));
    expect(dryGrams / (16 * (12 * 0.254) ** 2)).toBeCloseTo(Number(COATING_GRAMS_PER_DM2.from), 1);
  });

  // Source: J. Sankey, http://www.johnsankey.ca/ptips.html: two seconds of dipping leave 0.41 mm dry. Read. 4.9 to 6.2 g/dm² at an
  // assumed 1.2 to 1.5 g/cm³ of the dry layer: derived, and rounded to 6.
  it('is at most about what a published dip leaves', () => {
    const [loose, dense] = [1.2, 1.5].map((gramsPerCm3) => 0.041 * 100 * gramsPerCm3);
    expect(Number(COATING_GRAMS_PER_DM2.to)).toBeGreaterThan(loose ?? 0);
    expect(Number(COATING_GRAMS_PER_DM2.to)).toBeCloseTo(dense ?? 0, 0);
    expect(Number(glazeDryGrams({ areaDm2: 1, gramsPerDm2: '6', wastePercent: '0' }))).toBe(6);
  });

  it.each([
    ['2.59', 'thinner'],
    ['2.6', null],
    ['4.5', null],
    ['6', null],
    ['6.01', 'thicker'],
  ])('of %s g/dm² is %s', (grams, outside) => {
    expect(coatingOutside(grams)).toBe(outside);
  });
});

describe('clay', () => {
  // Sources: a studio's price list, strandedstarfishak.com (a bowl or mug takes 1.5 lb on average; 6 lb are advised for a session of
  // two hours); P. Bridges 2009 (25 mugs from 25 lb); an art shop's lesson, 2010 (3 in pinch pots of 1/4 lb, 200 from 50 lb). All read.
  it.each([
    ['mug', inches(4), 1.5 * POUND],
    ['mug', inches(4), (25 * POUND) / 25],
    ['bowl', inches(6), 1.5 * POUND],
    ['pinchPot', inches(3), (50 * POUND) / 200],
  ] as const)('of a published %s is nothing unusual', (form, size, grams) => {
    const usual = usualWetGrams(form, size);
    expect(grams).toBeGreaterThanOrEqual(usual?.from ?? Number.POSITIVE_INFINITY);
    expect(grams).toBeLessThanOrEqual(usual?.to ?? 0);
  });

  it('beyond half and twice the published masses is unusual (our own bounds)', () => {
    expect(usualWetGrams('mug', inches(4))).toEqual({ from: 227, to: 1361 });
    expect(usualWetGrams('bowl', inches(6))).toEqual({ from: 340, to: 1361 });
    expect(usualWetGrams('pinchPot', inches(3))).toEqual({ from: 57, to: 227 });
    expect(usualWetGrams('pinchPot', inches(6))).toEqual({ from: 227, to: 907 }); // four times the wall
    expect(usualWetGrams('bottle', inches(4))).toBeNull(); // nothing published is known
  });

  it('is 6 lb for two hours at most, and a class of several weeks stays far below that', () => {
    expect(mostClayGrams(120)).toBe(Math.round(6 * POUND));
    // Source: artbyfuzzy.com, 2013: 5 lb for each participant of a handbuilding class of several weeks. Read.
    expect(5 * POUND).toBeLessThan(mostClayGrams(2 * 120));
  });
});
