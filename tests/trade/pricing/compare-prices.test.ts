import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Decimal } from '../../../src/trade/money/money.js';
import { comparePrices, comparePrivatePrices, FACTORS } from '../../../src/trade/pricing/compare-prices.js';
import { coursePrice, type PriceInputs } from '../../../src/trade/pricing/course-price.js';
import { CLAY, GLAZE, ROOM } from '../../support/cost-kinds.js';
import { anyEvenings, EVENINGS, line, source } from '../../support/price-case.js';

/** Three benches, all of them certain to be taken, and nothing else but one unpaid hour. */
const SURE: PriceInputs = {
  ...EVENINGS,
  ...{ places: 3, minimum: 1, enrolment: { alpha: '999999', beta: '0.001', source } },
  ...{ cardPercent: '0', cardFixedMinor: 0, payments: 1, secondTutor: null },
  lines: [line(CLAY, 'per-student', '2', '100'), line(ROOM, 'per-course', '1', '300', 'h')],
  ...{ ownerHours: '1', ownerHoursPerStudent: '0', wagePerHourMinor: 0 },
  ...{ targetSurplusMinor: 0, payFloorPerHourMinor: 0, poorAtMost: '1', priceStepMinor: 1 },
};
const total = (rows: readonly { effectMinor: string }[]) =>
  rows.reduce((sum, { effectMinor }) => sum.plus(effectMinor), new Decimal(0));

describe('two prices side by side', () => {
  it('differ by what a hand calculation gives', () => {
    // clay 50 dearer for each; another room costs 600 instead of 300, a third of it for each; and no glaze before
    const second = {
      ...SURE,
      lines: [
        line(CLAY, 'per-student', '2', '125'),
        line(ROOM, 'per-course', '1', '600', 'h'),
        line(GLAZE, 'per-student', '1', '20'),
      ],
    };
    const { firstMinor, secondMinor, rows } = comparePrices(SURE, second);
    expect(rows.map(({ key, line: of }) => [key, of?.first, of?.second])).toEqual([
      ['room', '300', '600'],
      ['clay-1', '200', '250'],
      ['glaze-1', null, '20'],
      ...(rows.some(({ key }) => key === 'rounding') ? [['rounding', undefined, undefined]] : []),
    ]);
    for (const [i, hand] of [100, 50, 20].entries()) expect(Number(rows[i]?.effectMinor)).toBeCloseTo(hand, 3);
    expect(total(rows).toFixed()).toBe(String(secondMinor - firstMinor));
  });

  it('add up to the difference exactly, whatever differs, the greatest effect first', () => {
    fc.assert(
      fc.property(anyEvenings, anyEvenings, fc.boolean(), (first, other, drop) => {
        const second = drop ? { ...other, lines: other.lines.slice(2) } : other;
        const { firstMinor, secondMinor, rows } = comparePrices(first, second);
        expect([firstMinor, secondMinor]).toEqual([
          coursePrice(first).fairPriceMinor,
          coursePrice(second).fairPriceMinor,
        ]);
        expect(total(rows).toFixed()).toBe(String(secondMinor - firstMinor));
        const sizes = rows.map(({ effectMinor }) => Math.abs(Number(effectMinor)));
        expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
        for (const { key, line: of } of rows) expect(of !== null || FACTORS.some((f) => f === key)).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  it('are the same the other way round, with the opposite sign', () => {
    fc.assert(
      fc.property(anyEvenings, anyEvenings, (first, second) => {
        const effects = (rows: readonly { key: string; effectMinor: string }[], sign: number) =>
          Object.fromEntries(rows.map(({ key, effectMinor }) => [key, (Number(effectMinor) * sign).toFixed(9)]));
        const [there, back] = [comparePrices(first, second), comparePrices(second, first)];
        const named = (of: Record<string, string>) => Object.keys(of).sort();
        expect(named(effects(there.rows, 1))).toEqual(named(effects(back.rows, -1)));
        expect(effects(there.rows, 1)).toEqual(effects(back.rows, -1));
      }),
      { numRuns: 20 },
    );
  });

  it('do not differ from themselves, also where only a source has other words', () => {
    const reworded = { ...EVENINGS, enrolment: { ...EVENINGS.enrolment, source: { ...source, detail: 'Said anew.' } } };
    expect(comparePrices(EVENINGS, reworded).rows).toEqual([]);
  });

  it('do not differ by the order of keys, which the database changes in what it keeps', () => {
    const { secondTutor, enrolment } = EVENINGS;
    const kept = {
      ...EVENINGS,
      secondTutor: { above: secondTutor?.above ?? 0, feeMinor: secondTutor?.feeMinor ?? 0 },
      enrolment: { source: enrolment.source, beta: enrolment.beta, alpha: enrolment.alpha },
    };
    expect(comparePrices(kept, EVENINGS).rows).toEqual([]);
  });

  it('of private sessions differ by what a hand calculation gives', () => {
    // three in the price: 2.00 of clay each and the room; what a place costs more is three times that of the group
    const { enrolment, minimum, poorAtMost, payFloorPerHourMinor, remakesPercent, ...rest } = SURE;
    const party = { ...rest, groupOf: 3 };
    const clay = { ...party, lines: [line(CLAY, 'per-student', '2', '125'), ...party.lines.slice(1)] };
    expect(comparePrivatePrices(party, clay)).toMatchObject({
      ...{ firstMinor: 900, secondMinor: 1050 },
      rows: [{ key: 'clay-1', line: { first: '200', second: '250' }, effectMinor: '150' }],
    });
    const four = comparePrivatePrices(party, { ...party, places: 4, groupOf: 4 });
    expect(four.rows).toMatchObject([{ key: 'offer', effectMinor: '200' }]);
  });

  it('are in one currency', () => {
    expect(() => comparePrices(EVENINGS, { ...EVENINGS, currency: 'EUR' })).toThrow('one currency');
  });
});
