import { describe, expect, it } from 'vitest';
import { adviceOnLitre, LITRE_GRAMS_BY_WAY, waysFor } from '../../src/trade/materials/litre-weight.js';

// Potters' figures, which differ: each published one must be inside the range of its way, and the range no wider than they are.
// Sources. A: http://www.potters.org/subject95505.htm (spray 1.42 to 1.45, dip 1.53 to 1.55, brush 1.62 to 1.65). B:
// http://www.potters.org/subject20461.htm (tiles dipped or poured, 1.45 to 1.55). C: Clayart, 18 Feb 2025,
// https://lists.clayartforum.com/pipermail/clayart/2025-February/032475.html (a ladder of dips, 1.42 to 1.50). D: a shop's page (dip
// 1.50 to 1.70, brush 1.45 to 1.60). E: one jar of commercial brush-on glaze, weighed by one potter, 1.86. All read.
const PUBLISHED = [
  ['sprayed', 1420, 1450, 'A'],
  ['dipped', 1530, 1550, 'A'],
  ['brushed', 1620, 1650, 'A'],
  ['dipped', 1450, 1550, 'B'],
  ['poured', 1450, 1550, 'B'],
  ['dipped', 1420, 1500, 'C'],
  ['dipped', 1500, 1700, 'D'],
  ['brushed', 1450, 1600, 'D'],
  ['brushed', 1860, 1860, 'E'],
] as const;

describe('what a litre of glaze weighs, by the way of putting it on', () => {
  it.each(PUBLISHED)('%s: %i to %i g (%s)', (way, from, to) => {
    expect(waysFor(from)).toContain(way);
    expect(waysFor(to)).toContain(way);
  });

  it('goes from the least to the most that is published', () => {
    for (const [way, { from, to }] of Object.entries(LITRE_GRAMS_BY_WAY)) {
      const own = PUBLISHED.filter(([of]) => of === way);
      expect([from, to]).toEqual([Math.min(...own.map((p) => p[1])), Math.max(...own.map((p) => p[2]))]);
    }
  });

  it('suits no way where it is thinner or thicker than all of them', () => {
    expect(waysFor(1419)).toEqual([]);
    expect(waysFor(1861)).toEqual([]);
    expect(() => waysFor(1000)).toThrow(/weight of a litre/);
  });
});

describe('water to reach a litre weight', () => {
  // Source: W. Altmann, Clayart, 26 April 1998, http://www.potters.org/subject13664.htm: 14 kg dry take 5.6 kg of water at 1.75 and
  // 11.2 kg at 1.5, an excess of 5.6 kg. At 1.75 and 2.5 of the solids they are 11.2 l. Read.
  it('is the 5.6 kg by which a published slurry of 1.5 exceeds one of 1.75', () => {
    expect(adviceOnLitre(11_200, 1750, 1500).addWaterMl).toBe(5600);
    expect(adviceOnLitre(16_800, 1500, 1750).addWaterMl).toBe(-5600);
  });
  it('is none where the recipe names no weight, or it is reached', () => {
    expect(adviceOnLitre(1000, 1450, null)).toEqual({
      addWaterMl: 0,
      ways: ['sprayed', 'poured', 'dipped', 'brushed'],
    });
    expect(adviceOnLitre(1000, 1450, 1450).addWaterMl).toBe(0);
  });
});
