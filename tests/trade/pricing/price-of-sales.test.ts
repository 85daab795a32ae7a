import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Decimal } from '../../../src/trade/money/money.js';
import { coursePrice, type PriceInputs, profitTableAt } from '../../../src/trade/pricing/course-price.js';
import { soldPrices } from '../../../src/trade/pricing/takings.js';
import { CLAY } from '../../support/cost-kinds.js';
import { anyEvenings, EVENINGS, line, source } from '../../support/price-case.js';

/** Ten pounds for each student and nothing else but one unpaid hour. */
const PLAIN: PriceInputs = {
  currency: 'GBP',
  ...{ places: 4, minimum: 1, enrolment: { alpha: '1', beta: '1', source } },
  ...{ vatPercent: '0', cardPercent: '0', cardFixedMinor: 0, payments: 1 },
  lines: [line(CLAY, 'per-student', '2', '500')],
  ...{ ownerHours: '1', ownerHoursPerStudent: '0', wagePerHourMinor: 0, secondTutor: null },
  ...{ targetSurplusMinor: 0, payFloorPerHourMinor: 0, poorAtMost: '1', priceStepMinor: 1 },
};

const FULL = { label: 'Full', sharePercent: '100' };

describe('a course sold at several prices', () => {
  it('costs what it did where everybody pays the full price', () => {
    fc.assert(
      fc.property(anyEvenings, (inputs) => {
        expect(coursePrice({ ...inputs, sold: [FULL], parts: [] })).toEqual(coursePrice(inputs));
      }),
      { numRuns: 40 },
    );
  });

  it('has its full price by hand: a quarter at half price', () => {
    // 0.75 P + 0.25 P / 2 = 0.875 P must be the 1000 that each student costs
    const sold = [
      { label: 'Full', sharePercent: '75' },
      { label: 'Concession', sharePercent: '25', pricePercent: '50' },
    ];
    const { floorMinor } = coursePrice({ ...PLAIN, sold });
    expect(new Decimal(floorMinor).times('0.875').toDecimalPlaces(20).toFixed()).toBe('1000');
  });

  it('has its full price by hand: half of the places £2 less, in three payments of 20 each', () => {
    // P - 0.5 * 200 must be 1000 + 0.5 * 20 + 0.5 * 60
    const early = { label: 'Early', sharePercent: '50', discountMinor: 200, payments: 3 };
    const inputs = { ...PLAIN, cardFixedMinor: 20, sold: [{ label: 'Full', sharePercent: '50' }, early] };
    expect(coursePrice(inputs)).toMatchObject({ floorMinor: '1140', fairPriceMinor: 1140, expectedResultMinor: '0' });
  });

  it('has its risk price by hand: who comes alone pays £1 less on average, and must still bring £12', () => {
    const early = { label: 'Early', sharePercent: '50', discountMinor: 200 };
    const wishes = { lines: [], payFloorPerHourMinor: 1200, poorAtMost: '0' };
    const inputs = { ...PLAIN, ...wishes, sold: [{ label: 'Full', sharePercent: '50' }, early] };
    expect(coursePrice(inputs)).toMatchObject({ riskPriceMinor: '1300', binding: 'risk', fairPriceMinor: 1300 });
  });

  it('takes nothing from a free place but what it costs', () => {
    // 0.8 P must be 1000
    const sold = [
      { label: 'Full', sharePercent: '80' },
      { label: 'Free', sharePercent: '20', pricePercent: '0', payments: 0 },
    ];
    expect(coursePrice({ ...PLAIN, cardFixedMinor: 0, sold }).floorMinor).toBe('1250');
  });

  it('tells what each pays, rounded to the penny', () => {
    const sold = [
      { label: 'Full', sharePercent: '50' },
      { label: 'Concession', sharePercent: '30', pricePercent: '75' },
      { label: 'Early', sharePercent: '20', pricePercent: '90', discountMinor: 200 },
    ];
    expect(soldPrices({ ...PLAIN, sold }, 11_450).map(({ priceMinor }) => priceMinor)).toEqual([11_450, 8588, 10_105]);
    expect(soldPrices(PLAIN, 11_450)).toEqual([]);
  });

  it('is exact at its own floor, whatever is sold at which price', () => {
    const any = fc.record({ share: fc.integer({ min: 0, max: 90 }), part: fc.nat(100), less: fc.nat(300) });
    fc.assert(
      fc.property(anyEvenings, any, (inputs, { share, part, less }) => {
        const sold = [
          { label: 'Full', sharePercent: String(100 - share) },
          { label: 'Other', sharePercent: String(share), pricePercent: String(50 + part / 2), discountMinor: less },
        ];
        const { floorMinor, fairPriceMinor } = coursePrice({ ...inputs, sold, targetSurplusMinor: 10_000 });
        expect(new Decimal(floorMinor).lte(fairPriceMinor)).toBe(true);
        expect(new Decimal(floorMinor).gte(coursePrice(inputs).floorMinor)).toBe(true);
        if (new Decimal(floorMinor).gt(1000))
          expect(profitTableAt({ ...inputs, sold }, floorMinor).expectedResultMinor).toBe('0');
      }),
      { numRuns: 100 },
    );
  });

  it.each([
    ['shares that make no whole', [{ label: 'Full', sharePercent: '90' }], /make 90%\. Let them make 100%\.$/],
    ['nobody who pays', [{ ...FULL, pricePercent: '0' }], /^Nobody would pay for this course/],
    ['more than the price', [{ ...FULL, pricePercent: '120' }], /^What is paid at "Full" in percent of the full price/],
    ['half a penny', [{ ...FULL, discountMinor: 0.5 }], /^The discount at "Full", in minor units, must be/],
    ['payments below none', [{ ...FULL, payments: -1 }], /^Payments at "Full" must be/],
  ])('is refused with %s', (_name, sold, message) => {
    expect(() => coursePrice({ ...EVENINGS, sold })).toThrow(message);
  });

  it('is refused where the discount is more than is paid', () => {
    const sold = [{ ...FULL, discountMinor: 500 }];
    expect(() => profitTableAt({ ...EVENINGS, sold }, '499')).toThrow(/more than somebody pays/);
    expect(profitTableAt({ ...EVENINGS, sold }, '500').ladder).toHaveLength(8);
  });
});

describe('a price whose parts bear different VAT', () => {
  const materials = { label: 'Materials', vatPercent: '25' };

  it('has its price by hand: exempt tuition, and £5 of materials with 25 % inside', () => {
    // P - 500 + 500 / 1.25 must be 1000
    expect(coursePrice({ ...PLAIN, parts: [{ ...materials, amountMinor: 500 }] }).floorMinor).toBe('1100');
  });

  it('has its price by hand: a fifth of it with 25 % inside', () => {
    // 0.8 P + 0.2 P / 1.25 = 0.96 P must be 1000
    const { floorMinor } = coursePrice({ ...PLAIN, parts: [{ ...materials, sharePercent: '20' }] });
    expect(new Decimal(floorMinor).times('0.96').toDecimalPlaces(20).toFixed()).toBe('1000');
  });

  it('is the price of one VAT where every part bears it', () => {
    fc.assert(
      fc.property(anyEvenings, (inputs) => {
        const parts = [
          { label: 'A', vatPercent: inputs.vatPercent, sharePercent: '30' },
          { label: 'B', vatPercent: inputs.vatPercent, amountMinor: 50 },
        ];
        expect(coursePrice({ ...inputs, parts })).toEqual(coursePrice(inputs));
      }),
      { numRuns: 40 },
    );
  });

  it.each([
    [{ ...materials, sharePercent: '101' }, /^The share of "Materials" in percent must be/],
    [{ ...materials, vatPercent: '-1' }, /^VAT on "Materials" in percent must be/],
    [{ ...materials, amountMinor: 0.5 }, /^"Materials", in minor units, must be/],
    [{ ...materials, sharePercent: '100', amountMinor: 5 }, /^The parts with a VAT of their own are more/],
  ])('is refused with %o', (part, message) => {
    expect(() => coursePrice({ ...EVENINGS, parts: [part] })).toThrow(message);
  });

  it('is refused where a part is more than is paid', () => {
    expect(() => profitTableAt({ ...PLAIN, parts: [{ ...materials, amountMinor: 500 }] }, '499')).toThrow(
      /more than somebody/,
    );
  });
});
