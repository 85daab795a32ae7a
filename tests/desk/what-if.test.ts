import { describe, expect, test } from 'vitest';
import { minorFrom } from '../../src/desk/entry/studio-fields';
import { reckon } from '../../src/desk/price/reckoning';
import { applied, expectedFill, today } from '../../src/desk/price/what-if';
import type { PriceInputs } from '../../src/trade/course-price.js';

const source = { kind: 'setting' as const, detail: 'A test.' };
const line = (key: string, basis: 'per-student' | 'per-course', rateMinor: string) => ({
  key,
  label: key,
  basis,
  quantity: '1',
  unit: 'kg',
  rateMinor,
  source,
});
const INPUTS: PriceInputs = {
  currency: 'GBP',
  ...{ places: 8, minimum: 4, enrolment: { alpha: '7.5', beta: '2.5', source } },
  ...{ vatPercent: '0', cardPercent: '0', cardFixedMinor: 0, payments: 1 },
  lines: [
    line('clay-1', 'per-student', '200'),
    line('glaze-1', 'per-student', '300'),
    line('room', 'per-course', '6000'),
  ],
  ...{ ownerHours: '10', ownerHoursPerStudent: '0', wagePerHourMinor: 2000, secondTutor: null },
  ...{ targetSurplusMinor: 0, payFloorPerHourMinor: 0, poorAtMost: '0.9', priceStepMinor: 500 },
};

describe('what if', () => {
  test('nothing is changed, nothing changes', () => {
    expect(applied(INPUTS, today(INPUTS))).toEqual(INPUTS);
  });

  test('clay costs half as much again, only clay does', () => {
    const { lines } = applied(INPUTS, { ...today(INPUTS), clayPercent: 50 });
    expect(lines.map((l) => l.rateMinor)).toEqual(['300', '300', '6000']);
  });

  test('more are expected, the certainty stays', () => {
    const { enrolment } = applied(INPUTS, { ...today(INPUTS), fillPercent: 50 });
    expect(enrolment).toMatchObject({ alpha: '5', beta: '5' });
    expect(expectedFill(INPUTS)).toBe(75);
  });

  test('fewer places than the minimum lower the minimum', () => {
    expect(applied(INPUTS, { ...today(INPUTS), places: 3 })).toMatchObject({ places: 3, minimum: 3 });
  });

  test('a dearer hour raises the price; a price below it all is told in its ladder', () => {
    const now = reckon(INPUTS, today(INPUTS));
    const dear = reckon(INPUTS, { ...today(INPUTS), wagePerHourMinor: 4000 });
    if ('refusal' in now || 'refusal' in dear) throw new Error(JSON.stringify([now, dear]));
    expect(dear.result.fairPriceMinor).toBeGreaterThan(now.result.fairPriceMinor);
    const low = reckon(INPUTS, { ...today(INPUTS), priceMinor: 500 });
    expect(low).toMatchObject({ askedMinor: 500, asked: { breakEvenStudents: null } });
  });

  test('figures that allow no price are refused with a sentence', () => {
    expect(reckon({ ...INPUTS, ownerHours: '0' }, today(INPUTS))).toHaveProperty('refusal');
  });
});

describe('an amount that somebody types', () => {
  test.each([
    ['12', 2, 1200],
    ['12.5', 2, 1250],
    ['0,20', 2, 20],
    ['150', 0, 150],
  ])('%s with %i digits is %i', (text, digits, minor) => {
    expect(minorFrom(text, digits)).toBe(minor);
  });
  test.each(['', '12.345', '-1', 'twelve', '1e3'])('"%s" is none', (text) => {
    expect(minorFrom(text, 2)).toBeNaN();
  });
});
