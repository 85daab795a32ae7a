import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Decimal } from '../../../src/trade/money/money.js';
import {
  cheapestChanges,
  coursePrice,
  type PriceInputs,
  profitTableAt,
} from '../../../src/trade/pricing/course-price.js';
import { surplusByHour } from '../../../src/trade/pricing/input-changes.js';
import { leversOf } from '../../../src/trade/pricing/levers.js';
import { anyEvenings, EVENINGS } from '../../support/price-case.js';

const fair = (inputs: PriceInputs) => coursePrice(inputs).fairPriceMinor;
const found = (inputs: PriceInputs, ceilingMinor: number) =>
  new Map(cheapestChanges(inputs, ceilingMinor).map((c) => [c.key, c]));

function moved(inputs: PriceInputs, key: string, value: Decimal): PriceInputs {
  const lever = leversOf(inputs).find((l) => l.key === key);
  if (!lever) throw new Error(key);
  return lever.set(value);
}

describe('a price of at most', () => {
  it('asks for nothing where the course costs no more', () => {
    expect(fair(EVENINGS)).toBe(12_000);
    expect(cheapestChanges(EVENINGS, 12_000)).toEqual([]);
    expect(cheapestChanges(EVENINGS, 11_999)).not.toEqual([]);
  });

  it('is reached by each change named, and not by one step less', () => {
    fc.assert(
      fc.property(anyEvenings, fc.integer({ min: 30, max: 99 }), (inputs, percent) => {
        const ceiling = Math.floor((fair(inputs) * percent) / 100);
        for (const { key, from, to, step, limit } of cheapestChanges(inputs, ceiling)) {
          if (to === 'never') {
            expect(fair(moved(inputs, key, new Decimal(limit)))).toBeGreaterThan(ceiling);
            continue;
          }
          expect(fair(moved(inputs, key, new Decimal(to)))).toBeLessThanOrEqual(ceiling);
          const towards = new Decimal(to).gt(from) ? 1 : -1;
          const steps = new Decimal(to).minus(from).abs().div(step).ceil().minus(1);
          const before = new Decimal(from).plus(steps.times(step).times(towards));
          expect(fair(moved(inputs, key, before))).toBeGreaterThan(ceiling);
        }
      }),
      { numRuns: 60 },
    );
  });

  /** Figures that no step divides, so that the last one is shorter. */
  const ODD: PriceInputs = {
    ...EVENINGS,
    ...{ wagePerHourMinor: 2405, payFloorPerHourMinor: 1203, targetSurplusMinor: 6050, ownerHours: '16.6' },
    ...{ poorAtMost: '0.055', priceStepMinor: 1, mostPlaces: 12 },
  };

  it.each([
    ['the surplus', ODD],
    ['the surplus by the hour', { ...ODD, ...surplusByHour(807, '7.5') }],
    ['the risk', { ...ODD, payFloorPerHourMinor: 2303 }],
  ])('stops at the very step that is enough, neither one short nor one too far, where %s binds', (_, inputs) => {
    const now = fair(inputs);
    for (const { key, from, limit, step, set } of leversOf(inputs)) {
      const steps = limit.minus(from).abs().div(step).ceil().toNumber();
      const at = (k: number) => (k === steps ? limit : from.plus(step.times(limit.gt(from) ? k : -k)));
      const prices = Array.from({ length: steps }, (_, i) => fair(set(at(i + 1))));
      for (const k of new Set([1, 2, Math.ceil(steps / 2), steps - 1, steps])) {
        const ceiling = prices[k - 1] ?? now;
        if (ceiling >= now) continue;
        const enough = prices.findIndex((price) => price <= ceiling) + 1; // step by step, without halving
        expect(found(inputs, ceiling).get(key)?.to, `${key}, ${k} of ${steps}`).toBe(at(enough).toFixed());
      }
    }
  });

  it('names the least relative change first, what never suffices last', () => {
    fc.assert(
      fc.property(anyEvenings, (inputs) => {
        const all = cheapestChanges(inputs, Math.floor(fair(inputs) * 0.9));
        const order = all.map(({ to, relativePart }) => (to === 'never' ? 9e99 : Number(relativePart ?? 9e15)));
        expect(order).toEqual([...order].sort((a, b) => a - b));
      }),
      { numRuns: 30 },
    );
  });

  it('leaves no more over than the course does at that price', () => {
    // what is left on average at 115.00 is 45 and some pence, so that 45 is wanted instead of 60
    const left = Number(profitTableAt(EVENINGS, '11500').expectedResultMinor);
    expect(Math.floor(left / 100) * 100).toBe(4500);
    expect(found(EVENINGS, 11_500).get('surplus')).toMatchObject({ from: '6000', to: '4500', step: '100' });
  });

  it('asks for as many hours fewer as the wage that is missing on average', () => {
    // an hour less saves its wage whenever the course is held
    const at = coursePrice(EVENINGS);
    const missing = 6000 - Number(profitTableAt(EVENINGS, '11500').expectedResultMinor);
    const hours = missing / (2400 * (1 - Number(at.probabilityCancelled)));
    expect(found(EVENINGS, 11_500).get('hours')).toMatchObject({
      from: '16.5',
      to: String(16.5 - Math.ceil(hours * 4) / 4),
      step: '0.25',
    });
  });

  it('moves what binds: where the risk does, wanting less over is never enough', () => {
    const risky = { ...EVENINGS, payFloorPerHourMinor: 2300 };
    expect(coursePrice(risky).binding).toBe('risk');
    const changes = found(risky, fair(risky) - 500);
    expect(changes.get('surplus')).toMatchObject({ to: 'never', relativePart: null, limit: '0' });
    expect(changes.get('pay-floor')?.to).not.toBe('never');
    expect(changes.get('risk')?.to).not.toBe('never');
  });

  it('counts a risk that nobody would take today as a change without measure, before the nevers', () => {
    const careful = { ...EVENINGS, poorAtMost: '0', payFloorPerHourMinor: 2300 };
    const all = cheapestChanges(careful, fair(careful) - 500);
    expect(all.find(({ key }) => key === 'risk')).toMatchObject({ from: '0', relativePart: null });
    const places = all.map(({ key, to }) => (key === 'risk' ? 'risk' : to === 'never' ? 'never' : 'sure'));
    expect(places.indexOf('risk')).toBe(places.lastIndexOf('sure') + 1);
  });

  it('offers no more places than the room has benches for', () => {
    expect(found({ ...EVENINGS, mostPlaces: 8 }, 11_500).has('more-places')).toBe(false);
    expect(found({ ...EVENINGS, mostPlaces: 10 }, 5000).get('more-places')).toMatchObject({ limit: '10', to: 'never' });
  });

  it('is never reached below a discount', () => {
    const sold = [
      { label: 'Full', sharePercent: '50' },
      { label: 'Early', sharePercent: '50', discountMinor: 9000 },
    ];
    expect(cheapestChanges({ ...EVENINGS, sold }, 8000).every(({ to }) => to === 'never')).toBe(true);
  });

  it.each([-1, 0.5, Number.NaN])('is refused at %s', (ceiling) => {
    expect(() => cheapestChanges(EVENINGS, ceiling)).toThrow(
      /^The most that a place may cost, in minor units, must be/,
    );
  });
});

describe('with one more certain student', () => {
  it('each costs no more, except where a second tutor comes', () => {
    fc.assert(
      fc.property(anyEvenings, fc.integer({ min: 0, max: 30_000 }), (inputs, gross) => {
        const { ladder } = profitTableAt(inputs, String(gross));
        for (const [i, rung] of ladder.entries()) {
          const next = ladder[i + 1];
          if (!next || rung.students === inputs.secondTutor?.above) continue;
          expect(new Decimal(next.costPerStudentMinor ?? 0).lte(rung.costPerStudentMinor ?? 0)).toBe(true);
        }
      }),
    );
  });
});
