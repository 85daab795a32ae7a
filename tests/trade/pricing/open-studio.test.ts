import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Decimal } from '../../../src/trade/money/money.js';
import {
  cheapestChanges,
  coursePrice,
  type PriceInputs,
  sensitivities,
} from '../../../src/trade/pricing/course-price.js';
import { CLAY, ROOM } from '../../support/cost-kinds.js';
import { anyEvenings, line, source } from '../../support/price-case.js';

/** An open afternoon with two benches: nobody, one or two come, each with one chance in three (alpha = beta = 1). */
const AFTERNOON: PriceInputs = {
  currency: 'GBP',
  ...{ places: 2, minimum: 0, enrolment: { alpha: '1', beta: '1', source } },
  ...{ vatPercent: '0', cardPercent: '0', cardFixedMinor: 0, payments: 1 },
  lines: [line(CLAY, 'per-student', '1', '100'), line(ROOM, 'per-course', '3', '200', 'h')],
  ...{ ownerHours: '3', ownerHoursPerStudent: '0', wagePerHourMinor: 1000, secondTutor: null },
  ...{ targetSurplusMinor: 0, payFloorPerHourMinor: 0, poorAtMost: '1', priceStepMinor: 50 },
};
const anyOpen = anyEvenings.map((inputs) => ({ ...inputs, minimum: 0 }));

describe('open studio by the bench', () => {
  it('is held with nobody too: its floor carries the empty afternoons (own algebra)', () => {
    // one bench is taken on average: P = 100 + 600 + 3 * 1000 = 3700, whoever comes
    const price = coursePrice(AFTERNOON);
    expect(price).toMatchObject({ fairPriceMinor: 3700, probabilityCancelled: '0', breakEvenStudents: 1 });
    expect(new Decimal(price.floorMinor).toDecimalPlaces(20).toFixed()).toBe('3700');
    expect(price.ladder[0]).toMatchObject({ students: 0, held: true, resultMinor: '-3600', costPerStudentMinor: null });
    expect(price.ladder.map(({ resultMinor }) => resultMinor)).toEqual(['-3600', '0', '3600']);
  });

  it('counts an empty bench no risk that a price could cure', () => {
    const price = coursePrice({ ...AFTERNOON, payFloorPerHourMinor: 1000, poorAtMost: '0' });
    expect(price).toMatchObject({ riskPriceMinor: '3700', probabilityUnderPayFloor: '0' });
  });

  it('leaves nothing on average at its floor, and is dearer than if it were called off when nobody comes', () => {
    fc.assert(
      fc.property(anyOpen, (inputs) => {
        const { floorMinor, targetSurplusMinor } = { ...coursePrice(inputs), ...inputs };
        const exact = coursePrice({ ...inputs, targetSurplusMinor: 0, poorAtMost: '1', priceStepMinor: 1 });
        expect(Number(exact.expectedResultMinor)).toBeGreaterThanOrEqual(0);
        expect(targetSurplusMinor).toBeGreaterThanOrEqual(0);
        const lines = inputs.lines.filter(({ basis }) => basis !== 'if-cancelled');
        const calledOff = coursePrice({ ...inputs, lines, minimum: 1 });
        expect(new Decimal(floorMinor).gte(calledOff.floorMinor)).toBe(true);
      }),
      { numRuns: 40 },
    );
  });

  it('has no minimum to lower or raise', () => {
    expect(sensitivities(AFTERNOON).map(({ key }) => key)).not.toContain('minimum');
    const keys = cheapestChanges(AFTERNOON, 3000).map(({ key }) => key);
    expect(keys).not.toContain('lower-minimum');
    expect(keys).not.toContain('higher-minimum');
  });
});
