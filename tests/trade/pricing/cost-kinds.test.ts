import { describe, expect, test } from 'vitest';
import {
  cheapestChanges,
  coursePrice,
  type PriceInputs,
  sensitivities,
} from '../../../src/trade/pricing/course-price.js';
import { dearerElectricity, fullerLoads, moreRemakes } from '../../../src/trade/pricing/input-changes.js';
import { planAt } from '../../../src/trade/pricing/variance.js';
import { RECLAIM, WHOLE_GLAZE } from '../../support/cost-kinds.js';
import { EVENINGS, line } from '../../support/price-case.js';

const KNOWN: PriceInputs = {
  ...EVENINGS,
  lines: [
    ...EVENINGS.lines,
    line(RECLAIM, 'per-student', '-0.5', '100'),
    line(WHOLE_GLAZE, 'per-course', '2', '2400', 'whole load'),
  ],
};
/** The same under keys and units that say nothing, or something else. */
const MISLEADING = ['firing-9', 'room', 'clay-3', 'sunk', 'glaze-7', 'clay-reclaim', 'x', 'other-2', 'advertising'];
const RENAMED: PriceInputs = {
  ...KNOWN,
  lines: KNOWN.lines.map((each, i) => ({ ...each, key: MISLEADING[i] ?? '', unit: i === 0 ? 'kiln load' : 'kg' })),
};
const figures = ({ lines }: PriceInputs) => lines.map(({ quantity, rateMinor }) => [quantity, rateMinor]);

describe('a cost line is told by what it pays for, never by its key or its unit', () => {
  test('in what a price hangs on, and in what would lower it', () => {
    expect(new Set(MISLEADING).size).toBe(KNOWN.lines.length);
    expect(coursePrice(RENAMED).fairPriceMinor).toBe(coursePrice(KNOWN).fairPriceMinor);
    const told = sensitivities(KNOWN);
    expect(told.map(({ key }) => key)).toEqual(
      expect.arrayContaining(['clay', 'glaze', 'other', 'room', 'electricity', 'loads', 'remakes']),
    );
    expect(sensitivities(RENAMED)).toEqual(told);
    const changes = cheapestChanges(KNOWN, 9500);
    expect(changes.map(({ key }) => key)).toEqual(expect.arrayContaining(['materials', 'advertising', 'loads']));
    expect(cheapestChanges(RENAMED, 9500)).toEqual(changes);
  });

  test.each([dearerElectricity, fullerLoads, moreRemakes])('in %o', (change) => {
    expect(figures(change(KNOWN, 20))).not.toEqual(figures(KNOWN));
    expect(figures(change(RENAMED, 20))).toEqual(figures(change(KNOWN, 20)));
  });

  test('in what a course was to come to, which says of each line what it paid for', () => {
    const sums = (inputs: PriceInputs) => planAt(inputs, 7, 12_000).map(({ key: _, unit, label, ...rest }) => rest);
    expect(sums(RENAMED)).toEqual(sums(KNOWN));
    const { kind, firing, wholeLoads } = { ...WHOLE_GLAZE } as Extract<typeof WHOLE_GLAZE, { kind: 'firing' }>;
    expect(sums(KNOWN)).toContainEqual(expect.objectContaining({ kind, firing, wholeLoads, amountMinor: '4800' }));
  });
});
