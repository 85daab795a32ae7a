import { describe, expect, it } from 'vitest';
import {
  type CostLine,
  coursePrice,
  type PriceInputs,
  profitTableAt,
} from '../../../src/trade/pricing/course-price.js';

const source = { kind: 'setting' as const, detail: 'An example.' };
const clay: CostLine = {
  ...{ kind: 'material', materialId: 'stoneware', use: 'clay', isReclaim: false },
  key: 'clay',
  label: 'Stoneware clay',
  basis: 'per-student',
  quantity: '2.4',
  unit: 'kg',
  rateMinor: '118',
  source,
};
const good: PriceInputs = {
  currency: 'GBP',
  places: 8,
  minimum: 4,
  enrolment: { alpha: '9', beta: '3', source },
  vatPercent: '20',
  cardPercent: '1.7',
  cardFixedMinor: 20,
  payments: 2,
  lines: [clay],
  ownerHours: '16.5',
  ownerHoursPerStudent: '0.5',
  wagePerHourMinor: 2400,
  secondTutor: { feeMinor: 9000, above: 6 },
  targetSurplusMinor: 6000,
  payFloorPerHourMinor: 1200,
  poorAtMost: '0.05',
  priceStepMinor: 500,
};

const bad: [string, Partial<PriceInputs>, RegExp][] = [
  ['no currency', { currency: '' }, /^Give the currency by its three letters, such as EUR\.$/],
  ['no places', { places: 0 }, /^Places must be a whole number between 1 and 200\.$/],
  ['a hall', { places: 201 }, /^Places must be a whole number between 1 and 200\.$/],
  ['half a place', { places: 7.5 }, /^Places must be/],
  ['a minimum below none', { minimum: -1 }, /^The least number of students must be a whole number between 0 and 8\.$/],
  ['a minimum above the places', { minimum: 9 }, /^The least number of students must be/],
  ['a shapeless enrolment', { enrolment: { alpha: '0', beta: '3', source } }, /^Alpha of the enrolment must be/],
  [
    'an enrolment from nowhere',
    { enrolment: { alpha: '9', beta: '3', source: { kind: 'assumption', detail: ' ' } } },
    /^Say where the figures of the expected enrolment come from\.$/,
  ],
  ['negative VAT', { vatPercent: '-1' }, /^VAT in percent must be between 0 and 100\.$/],
  ['VAT in words', { vatPercent: 'none' }, /^VAT in percent must be a number, such as 12\.5\.$/],
  ['a negative card percentage', { cardPercent: '-0.1' }, /^The card company's percentage must be/],
  [
    'VAT and card that leave nothing',
    { vatPercent: '100', cardPercent: '50' },
    /^VAT and the card company together take the whole price\. Lower one/,
  ],
  ['a broken minor unit', { cardFixedMinor: 0.2 }, /^The card fee for each payment, in minor units, must be a whole/],
  ['negative payments', { payments: -1 }, /^Payments must be/],
  ['no hours', { ownerHours: '0' }, /^Enter the owner's hours/],
  ['endless hours', { ownerHours: 'Infinity' }, /^The owner's hours must be a number/],
  ['negative hours per student', { ownerHoursPerStudent: '-1' }, /^The owner's hours for each student must be/],
  ['a negative wage', { wagePerHourMinor: -1 }, /^The owner's wage per hour, in minor units, must be/],
  ['a tutor who pays', { secondTutor: { feeMinor: -1, above: 6 } }, /^The second tutor's fee, in minor units, must/],
  ['a tutor above half a student', { secondTutor: { feeMinor: 1, above: 6.5 } }, /^The number of students above which/],
  ['a wish to lose', { targetSurplusMinor: -1 }, /^The surplus aimed at, in minor units, must be/],
  ['a negative pay floor', { payFloorPerHourMinor: -1 }, /^The least acceptable pay per hour, in minor units, must/],
  ['a probability above one', { poorAtMost: '5' }, /^The acceptable probability of a poorly paid course must be/],
  ['no step', { priceStepMinor: 0 }, /^The price step, in minor units, must be a whole number between 1 and/],
  ['a negative quantity', { lines: [{ ...clay, quantity: '-1' }] }, /^The quantity of "Stoneware clay" must be/],
  ['reclaim that adds', { lines: [clay, { ...clay, isReclaim: true, key: 'back', quantity: '1' }] }, /must be/],
  [
    'a rate in words',
    { lines: [{ ...clay, rateMinor: '1,18' }] },
    /^The rate of "Stoneware clay", in minor units, must/,
  ],
  ['two lines of one key', { lines: [clay, clay] }, /^Two cost lines have the same key/],
  [
    'a line from nowhere',
    { lines: [{ ...clay, source: { kind: 'lot', detail: '' } }] },
    /^Say where the figures of "Stoneware clay" come from\.$/,
  ],
  [
    'a course that is hardly ever held',
    { enrolment: { alpha: '0.001', beta: '1000000', source }, minimum: 8 },
    /^No sensible price would pay for this course\. Check its costs/,
  ],
];

describe('a price is refused', () => {
  it('but not these', () => {
    expect(coursePrice(good).fairPriceMinor).toBeGreaterThan(0);
  });

  it.each(bad)('for %s', (_name, change, message) => {
    expect(() => coursePrice({ ...good, ...change })).toThrow(RangeError);
    expect(() => coursePrice({ ...good, ...change })).toThrow(message);
  });

  it('for a basis that no total would count', () => {
    // as it would arrive in JSON, past the compiler
    const lines = JSON.parse(JSON.stringify([{ ...clay, basis: 'per-week' }]));
    expect(() => coursePrice({ ...good, lines })).toThrow(/^Say of "Stoneware clay" whether it is paid per student/);
  });

  it.each(['-1', 'free', '1e11'])('for a what-if at %s', (gross) => {
    expect(() => profitTableAt(good, gross)).toThrow(/^The price, in minor units, must/);
  });
});
