import { describe, expect, test } from 'vitest';
import { cheapestChanges, coursePrice, type PriceInputs, profitTableAt } from '../../src/trade/pricing/course-price.js';
import { OTHER, ROOM } from '../support/cost-kinds.js';
import { EVENINGS, line } from '../support/price-case.js';

/** A course of which nothing is known but what it costs, in major units: all its places are taken, or it is not held. */
function course(costs: { fixed: string; each: string }, size: { places: number; minimum: number }): PriceInputs {
  return {
    ...EVENINGS,
    ...size,
    ...{ cardPercent: '0', cardFixedMinor: 0, ownerHours: '1', ownerHoursPerStudent: '0', wagePerHourMinor: 0 },
    ...{ secondTutor: null, targetSurplusMinor: 0, payFloorPerHourMinor: 0, poorAtMost: '1', priceStepMinor: 1 },
    lines: [line(ROOM, 'per-course', costs.fixed, '100'), line(OTHER, 'per-student', costs.each, '100')],
  };
}

// Source: "Fee Setting: Calculating Fixed Costs, Variable Costs, and Break-Even Point for a Program", studymode.com/essays/
// Fee-Sitting-1307725.html (2012): 30P = 3,383.00 + 30.50 * 30 gives P = 143.27 a person.
describe('a seminar for thirty, published', () => {
  const costs = { fixed: '3383', each: '30.50' };

  test('breaks even at the printed fee', () => {
    expect(coursePrice(course(costs, { places: 30, minimum: 30 }))).toMatchObject({ fairPriceMinor: 14_327 });
  });

  test('breaks even with the printed number, where up to 45 may come', () => {
    const { ladder, breakEvenStudents } = profitTableAt(course(costs, { places: 45, minimum: 1 }), '14327');
    expect(breakEvenStudents).toBe(30);
    expect(Number(ladder[28]?.resultMinor)).toBeLessThan(0);
  });

  test('would need one more for a fee below it', () => {
    const changes = cheapestChanges(course(costs, { places: 30, minimum: 30 }), 14_326);
    expect(changes.find(({ key }) => key === 'more-places')?.to).toBe('31');
    expect(profitTableAt(course(costs, { places: 45, minimum: 1 }), '14326').breakEvenStudents).toBe(31);
  });
});

// Source: a worked answer on training fees, hrdiscussion.com/hr25232-post100953.html: fixed 1000, 10 for each, fee 110:
// 110 X = 1000 + 10 X gives X = 10 students.
test('a training course, published, breaks even with ten students', () => {
  const inputs = course({ fixed: '1000', each: '10' }, { places: 20, minimum: 1 });
  const { ladder, breakEvenStudents } = profitTableAt(inputs, '11000');
  expect(breakEvenStudents).toBe(10);
  expect(ladder[9]?.resultMinor).toBe('0');
  expect(coursePrice({ ...inputs, places: 10, minimum: 10 }).floorMinor).toBe('11000');
});
