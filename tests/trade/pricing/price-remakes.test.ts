import { describe, expect, test } from 'vitest';
import { moreRemakes } from '../../../src/trade/pricing/input-changes.js';
import { BISQUE, CLAY, GLAZE, OTHER, RECLAIM, WHOLE_GLAZE } from '../../support/cost-kinds.js';
import { EVENINGS, line } from '../../support/price-case.js';

const quantities = ({ lines }: typeof EVENINGS) => new Map(lines.map(({ key, quantity }) => [key, Number(quantity)]));

describe('more that is made again', () => {
  test('takes clay, and glaze and firing as far as such pieces get', () => {
    const inputs = {
      ...EVENINGS,
      lines: [
        line(CLAY, 'per-student', '4.6', '100'), // 4 and 15 % of it
        line(RECLAIM, 'per-student', '-0.46', '100'),
        { ...line(GLAZE, 'per-student', '0.51875', '900'), reachPercent: '25' }, // 0.5 and 3.75 %
        { ...line(BISQUE, 'per-student', '0.05375', '2400', 'kiln load'), reachPercent: '50' }, // 0.05 and 7.5 %
        { ...line(WHOLE_GLAZE, 'per-course', '2', '2400', 'whole load'), reachPercent: '25' },
        line(OTHER, 'per-student', '2', '50', 'piece'),
      ],
    };
    const after = quantities(moreRemakes(inputs, 100)); // 30 % instead of 15 %
    expect(after.get('clay-1')).toBeCloseTo(5.2, 12);
    expect(after.get(RECLAIM.key)).toBeCloseTo(-0.52, 12);
    expect(after.get('glaze-1')).toBeCloseTo(0.5375, 12);
    expect(after.get('firing-1')).toBeCloseTo(0.0575, 12);
    expect(after.get('firing-2')).toBe(2); // whole loads are counted, not shared
    expect(after.get('other-1')).toBe(2);
  });

  test('takes clay alone in a price that was saved before', () => {
    const after = quantities(moreRemakes(EVENINGS, 10));
    expect(after.get('clay-1')).toBeCloseTo((4 * 116.5) / 115, 12);
    expect(after.get('glaze-1')).toBe(0.5);
  });
});
