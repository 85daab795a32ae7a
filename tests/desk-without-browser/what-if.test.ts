import { describe, expect, test } from 'vitest';
import { recalculate } from '../../src/desk/pages/courses/pricing/recalculate';
import { applied, fillOf, hasOtherFigures, today } from '../../src/desk/pages/courses/pricing/what-if';
import type { CostLine, PriceInputs } from '../../src/trade/pricing/course-price.js';
import { BISQUE, CLAY, GLAZE, type Of, ROOM } from '../support/cost-kinds.js';

const source = { kind: 'setting' as const, detail: 'A test.' };
const line = (of: Of, basis: 'per-student' | 'per-course', rateMinor: string): CostLine => ({
  ...of,
  label: of.key,
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
  lines: [line(CLAY, 'per-student', '200'), line(GLAZE, 'per-student', '300'), line(ROOM, 'per-course', '6000')],
  ...{ ownerHours: '10', ownerHoursPerStudent: '0', wagePerHourMinor: 2000, secondTutor: null },
  ...{ targetSurplusMinor: 0, payFloorPerHourMinor: 0, poorAtMost: '0.9', priceStepMinor: 500 },
};

const SOLD_MINOR = 9000;

describe('what if', () => {
  test('nothing is changed, nothing changes', () => {
    expect(applied(INPUTS, today(INPUTS))).toEqual(INPUTS);
  });

  test('only figures that make another fair price are called tried, not a price to ask', () => {
    const now = today(INPUTS);
    expect(hasOtherFigures(INPUTS, now)).toBe(false);
    expect(hasOtherFigures(INPUTS, { ...now, priceMinor: 12_000 })).toBe(false);
    expect(hasOtherFigures(INPUTS, { ...now, clayPercent: 5 })).toBe(true);
    expect(hasOtherFigures(INPUTS, { ...now, places: 9 })).toBe(true);
  });

  test('clay costs half as much again, only clay does', () => {
    const { lines } = applied(INPUTS, { ...today(INPUTS), clayPercent: 50 });
    expect(lines.map((l) => l.rateMinor)).toEqual(['300', '300', '6000']);
  });

  test('a quarter more ware in each load, each piece bears a fifth less of it', () => {
    const fired = {
      ...INPUTS,
      lines: [...INPUTS.lines, { ...line(BISQUE, 'per-student', '1500'), unit: 'kiln load' }],
    };
    const { lines } = applied(fired, { ...today(fired), loadPercent: 25, firingPercent: 10 });
    expect(lines.map((l) => l.quantity)).toEqual(['1', '1', '1', '0.8']);
    expect(lines.map((l) => l.rateMinor)).toEqual(['200', '300', '6000', '1650']);
  });

  test('more are expected, the certainty stays', () => {
    const { enrolment } = applied(INPUTS, { ...today(INPUTS), fillPercent: 50 });
    expect(enrolment).toMatchObject({ alpha: '5', beta: '5' });
    expect(fillOf(INPUTS)).toBe(75);
  });

  test('some pay a reduced price, the full price makes up for it', () => {
    const wanted = { ...today(INPUTS), reducedPercent: 25, reducedToPercent: 60 };
    expect(applied(INPUTS, wanted).sold).toEqual([
      { label: 'The full price', sharePercent: '75' },
      { label: 'A reduced price', sharePercent: '25', pricePercent: '60' },
    ]);
    const [all, some] = [recalculate(INPUTS, today(INPUTS), SOLD_MINOR), recalculate(INPUTS, wanted, SOLD_MINOR)];
    if ('refusal' in all || 'refusal' in some) throw new Error(JSON.stringify([all, some]));
    expect(Number(some.result.floorMinor) * 0.9).toBeCloseTo(Number(all.result.floorMinor), 6);
  });

  test('kept concessions are where it starts, and stay as they are until they are moved', () => {
    const sold = [
      { label: 'The full price', sharePercent: '70' },
      { label: 'Student', sharePercent: '20', pricePercent: '75' },
      { label: 'Early', sharePercent: '10', pricePercent: '90', discountMinor: 200, payments: 1 },
    ];
    const kept = { ...INPUTS, sold };
    expect(today(kept)).toMatchObject({ reducedPercent: 30, reducedToPercent: 80 });
    expect(applied(kept, today(kept))).toEqual(kept);
    expect(applied(kept, { ...today(kept), reducedPercent: 0 }).sold?.map(({ sharePercent }) => sharePercent)).toEqual([
      '100',
      '0',
    ]);
  });

  test('fewer places than the minimum lower the minimum', () => {
    expect(applied(INPUTS, { ...today(INPUTS), places: 3 })).toMatchObject({ places: 3, minimum: 3 });
  });

  test('a dearer hour raises the price; a price below it all is told in its ladder', () => {
    const now = recalculate(INPUTS, today(INPUTS), SOLD_MINOR);
    const dear = recalculate(INPUTS, { ...today(INPUTS), wagePerHourMinor: 4000 }, SOLD_MINOR);
    if ('refusal' in now || 'refusal' in dear) throw new Error(JSON.stringify([now, dear]));
    expect(dear.result.fairPriceMinor).toBeGreaterThan(now.result.fairPriceMinor);
    const low = recalculate(INPUTS, { ...today(INPUTS), priceMinor: 500 }, SOLD_MINOR);
    expect(low).toMatchObject({ askedMinor: 500, asked: { breakEvenStudents: null } });
  });

  test('figures that allow no price are refused with a sentence', () => {
    expect(recalculate({ ...INPUTS, ownerHours: '0' }, today(INPUTS), SOLD_MINOR)).toHaveProperty('refusal');
  });
});
