import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Decimal } from '../../../src/trade/money/money.js';
import { coursePrice, type PriceInputs, sensitivities } from '../../../src/trade/pricing/course-price.js';
import { ADVERTISING } from '../../support/cost-kinds.js';
import { anyEvenings, EVENINGS, exactPrice, line } from '../../support/price-case.js';

const of = (inputs: PriceInputs) => new Map(sensitivities(inputs).map((s) => [s.key, s]));
const rounded = (text?: string) => new Decimal(text ?? 'NaN').toDecimalPlaces(12).toFixed();

/** Nothing but what each of four students uses: the fair price is what a student costs. */
const PLAIN: PriceInputs = {
  ...EVENINGS,
  ...{ places: 4, minimum: 1, cardPercent: '0', cardFixedMinor: 0, targetSurplusMinor: 0, payFloorPerHourMinor: 0 },
  ...{ wagePerHourMinor: 0, ownerHoursPerStudent: '0', secondTutor: null, priceStepMinor: 100 },
  lines: EVENINGS.lines.filter(({ basis }) => basis === 'per-student'),
};

describe('what the fair price hangs on', () => {
  it('by hand, where the price is what a student costs: 400 clay, 450 glaze, 120 firing, 100 other', () => {
    const found = of(PLAIN);
    expect(coursePrice(PLAIN)).toMatchObject({ floorMinor: '1070', fairPriceMinor: 1100 });
    expect(found.get('clay')).toMatchObject({
      change: '+10%',
      deltaMinor: '40',
      exactMinor: '1110',
      fairPriceMinor: 1200,
    });
    expect(found.get('glaze')).toMatchObject({ deltaMinor: '45' });
    expect(found.get('other')).toMatchObject({ deltaMinor: '10' });
    // a twentieth of a load of 2000 electricity and 400 wear
    expect(found.get('electricity')).toMatchObject({ deltaMinor: '10', exactMinor: '1080', fairPriceMinor: 1100 });
    // 120 / 1.1 - 120, and 400 * 1.165 / 1.15 - 400
    expect(rounded(found.get('loads')?.deltaMinor)).toBe('-10.909090909091');
    expect(rounded(found.get('remakes')?.deltaMinor)).toBe('5.217391304348');
    // each further student costs the same, whoever comes
    for (const key of ['places', 'bookings', 'wage']) expect(found.get(key)?.deltaMinor).toBe('0');
  });

  it('counts all of a firing’s rate as electricity where it doesn’t say', () => {
    const lines = PLAIN.lines.map(({ electricityMinor, ...rest }) => rest);
    expect(of({ ...PLAIN, lines }).get('electricity')?.deltaMinor).toBe('12');
  });

  it('is that of the changed course, worked out anew', () => {
    fc.assert(
      fc.property(anyEvenings, (inputs) => {
        const now = exactPrice(inputs);
        const found = of(inputs);
        const same = (key: string, changed: PriceInputs) => {
          const told = found.get(key);
          expect(told?.fairPriceMinor).toBe(coursePrice(changed).fairPriceMinor);
          const delta = exactPrice(changed)
            .minus(now)
            .minus(told?.deltaMinor ?? 'NaN');
          expect(delta.abs().lt('1e-15')).toBe(true);
        };
        same('places', { ...inputs, places: inputs.places + 1 });
        if (inputs.minimum > 1) same('minimum', { ...inputs, minimum: inputs.minimum - 1 });
        same('wage', { ...inputs, wagePerHourMinor: (inputs.wagePerHourMinor * 11) / 10 });
      }),
      { numRuns: 60 },
    );
  });

  it('what is dearer never makes it cheaper, fuller loads never dearer; the greatest effect comes first', () => {
    fc.assert(
      fc.property(anyEvenings, (inputs) => {
        const all = sensitivities(inputs);
        for (const { key, deltaMinor } of all) {
          if (['places', 'minimum', 'bookings'].includes(key)) continue;
          const delta = new Decimal(deltaMinor);
          expect(key === 'loads' ? delta.lte(0) : delta.gte(0)).toBe(true);
        }
        const effects = all.map(({ deltaMinor }) => Math.abs(Number(deltaMinor)));
        expect(effects).toEqual([...effects].sort((a, b) => b - a));
      }),
      { numRuns: 100 },
    );
  });

  it('leaves out what the course has no line for', () => {
    const bare = {
      ...EVENINGS,
      targetSurplusMinor: 0,
      minimum: 1,
      secondTutor: null,
      mostPlaces: 8,
      lines: [line(ADVERTISING, 'per-course', '1', '9')],
    };
    expect([...of(bare).keys()].sort()).toEqual(['bookings', 'wage']);
    expect(of({ ...bare, places: 200, mostPlaces: 200 }).has('places')).toBe(false);
    expect(of({ ...bare, mostPlaces: 9 }).has('places')).toBe(true);
  });

  it('fills no course beyond its places', () => {
    const full = { ...EVENINGS, enrolment: { ...EVENINGS.enrolment, alpha: '19', beta: '1' } };
    expect(of(full).get('bookings')).toMatchObject({ change: '99% of places' });
    const over = { ...EVENINGS, enrolment: { ...EVENINGS.enrolment, alpha: '199', beta: '1' } };
    expect(of(over).has('bookings')).toBe(false);
  });
});
