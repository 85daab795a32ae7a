import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { courseCost, placeOf } from '../../src/desk/pages/courses/pricing/unit-economics';
import { coursePrice, type PriceInputs, profitTableAt } from '../../src/trade/pricing/course-price.js';
import { CLAY, ROOM } from '../support/cost-kinds.js';

const source = { kind: 'setting' as const, detail: 'A test.' };
const INPUTS: PriceInputs = {
  currency: 'GBP',
  ...{ places: 8, minimum: 4, enrolment: { alpha: '7.5', beta: '2.5', source } },
  ...{ vatPercent: '20', cardPercent: '1.75', cardFixedMinor: 20, payments: 2 },
  lines: [
    { ...CLAY, label: 'Clay', basis: 'per-student', quantity: '2.328', unit: 'kg', rateMinor: '124.8', source },
    { ...ROOM, label: 'Room', basis: 'per-course', quantity: '10.5', unit: 'h', rateMinor: '650', source },
  ],
  ...{ ownerHours: '16.5', ownerHoursPerStudent: '0.25', wagePerHourMinor: 2200 },
  secondTutor: { feeMinor: 9000, above: 6 },
  ...{ targetSurplusMinor: 6000, payFloorPerHourMinor: 1200, poorAtMost: '0.1', priceStepMinor: 500 },
};

describe('what becomes of the price of a place', () => {
  test('in figures reckoned by hand', () => {
    const { perStudentMinor, fixedMinor } = coursePrice(INPUTS);
    const place = placeOf(INPUTS, 12_000, perStudentMinor);
    expect(place.vat.toFixed()).toBe('-2000'); // 120.00 with 20 % inside it
    expect(place.card.toFixed()).toBe('-250'); // 1.75 % of 120.00, and 0.20 twice
    expect(place.student.toFixed()).toBe('-840.5344'); // 2.328 kg at 1.248, and a quarter of an hour at 22.00
    expect(place.towards.toFixed()).toBe('8909.4656');
    expect(courseCost(INPUTS, fixedMinor, 6).toFixed()).toBe('43125'); // 10.5 h at 6.50, and 16.5 h at 22.00
    expect(courseCost(INPUTS, fixedMinor, 7).toFixed()).toBe('52125');
  });

  test('a quarter of the places at three fifths of it are a tenth less on average', () => {
    const sold = [
      { label: 'Full', sharePercent: '75' },
      { label: 'Reduced', sharePercent: '25', pricePercent: '60' },
    ];
    const place = placeOf({ ...INPUTS, sold }, 12_000, '0');
    expect(place.reduced.toFixed()).toBe('-1200');
    expect(place.vat.toFixed()).toBe('-1800'); // 108.00 with 20 % inside it
  });

  const SOLD = [
    { label: 'Full', sharePercent: '70' },
    { label: 'Reduced', sharePercent: '30', pricePercent: '75', payments: 3 },
  ];
  test.each([undefined, SOLD])('the rungs of the ladder come of it, at any price, sold at %o', (sold) => {
    const inputs = { ...INPUTS, ...(sold && { sold }) };
    const { perStudentMinor, fixedMinor } = coursePrice(inputs);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000 }), (priceMinor) => {
        const { towards } = placeOf(inputs, priceMinor, perStudentMinor);
        for (const { students, resultMinor } of profitTableAt(inputs, String(priceMinor)).ladder) {
          const left = towards.times(students).minus(courseCost(inputs, fixedMinor, students));
          expect(left.minus(resultMinor).abs().toNumber()).toBeLessThan(1e-9);
        }
      }),
    );
  });
});
