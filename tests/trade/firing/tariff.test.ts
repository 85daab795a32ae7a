import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Band,
  cheapestStart,
  spreadKwh,
  tariffCostMinor,
  validateBands,
} from '../../../src/trade/firing/tariff.js';
import { Decimal, roundHalfUp } from '../../../src/trade/money/money.js';

const band = (fromHour: number, toHour: number, perKwhMinor: string): Band => {
  return { fromMinute: fromHour * 60, toMinute: toHour * 60, perKwhMinor };
};
const NIGHT_AND_DAY = [band(0, 7, '12.4'), band(7, 23, '28.6'), band(23, 24, '12.4')];
const FLAT = [band(0, 24, '24.5')];

describe('bands', () => {
  test('cover the day, in any order', () => {
    expect(() => validateBands([...NIGHT_AND_DAY].reverse())).not.toThrow();
  });

  test.each([
    [[band(0, 7, '1'), band(8, 24, '1')], 'no price from 07:00 to 08:00'],
    [[band(0, 9, '1'), band(8, 24, '1')], 'two prices from 08:00 to 09:00'],
    [[band(0, 23, '1')], 'no price from 23:00 to 24:00'],
    [[], 'no price from 00:00 to 24:00'],
    [[band(0, 23, '1'), band(23, 7, '1')], 'split at midnight'],
    [[band(0, 24, 'cheap')], 'The price per kWh'],
    [[band(0, 25, '1')], 'The end of a band'],
  ] as const)('%j: %s', (bands, fault) => {
    expect(() => validateBands(bands)).toThrow(fault);
  });
});

const anyBands = fc
  .tuple(
    fc.uniqueArray(fc.integer({ min: 1, max: 1439 }), { maxLength: 5 }),
    fc.array(fc.integer({ min: -500, max: 90_000 }), { minLength: 6, maxLength: 6 }),
  )
  .map(([cuts, rates]) => {
    const edges = [0, ...cuts.sort((a, b) => a - b), 1440];
    return edges.slice(0, -1).map((fromMinute, i): Band => {
      return { fromMinute, toMinute: edges[i + 1] ?? 1440, perKwhMinor: `${(rates[i] ?? 0) / 1000}` };
    });
  });
const kwh = fc.integer({ min: 0, max: 100_000 }).map((watthours) => `${watthours / 1000}`);

describe('the cost under a tariff', () => {
  test('has a line for each price, in the order met', () => {
    const slots = spreadKwh('30', 6 * 60, 120); // an hour at night, an hour by day
    expect(tariffCostMinor(slots, NIGHT_AND_DAY)).toEqual({
      amountMinor: 615,
      lines: [
        { perKwhMinor: '12.4', kwh: '15', amountMinor: 186 },
        { perKwhMinor: '28.6', kwh: '15', amountMinor: 429 },
      ],
    });
  });

  test('goes round midnight, and bands of one price share a line', () => {
    const slots = spreadKwh('4', 22 * 60, 240);
    expect(tariffCostMinor(slots, NIGHT_AND_DAY).lines.map((line) => line.kwh)).toEqual(['1', '3']);
  });

  test('is the exact sum rounded once, and its lines add up to it', () => {
    const slots = fc.array(fc.record({ minuteOfDay: fc.integer({ min: 0, max: 1439 }), kwh }), { maxLength: 60 });
    fc.assert(
      fc.property(slots, anyBands, (drawn, bands) => {
        const { amountMinor, lines } = tariffCostMinor(drawn, bands);
        expect(lines.reduce((sum, line) => sum + line.amountMinor, 0)).toBe(amountMinor);
        const exact = drawn.reduce((sum, slot) => {
          const at = bands.find((b) => b.fromMinute <= slot.minuteOfDay && slot.minuteOfDay < b.toMinute);
          return sum.plus(new Decimal(slot.kwh).times(at?.perKwhMinor ?? Number.NaN));
        }, new Decimal(0));
        expect(amountMinor).toBe(roundHalfUp(exact));
      }),
    );
  });

  test('of nothing is nothing, and time outside the day is refused', () => {
    expect(tariffCostMinor([], FLAT)).toEqual({ amountMinor: 0, lines: [] });
    expect(() => tariffCostMinor([{ minuteOfDay: 1440, kwh: '1' }], FLAT)).toThrow(/^The minute of the day/);
    expect(() => tariffCostMinor([{ minuteOfDay: 0, kwh: '-1' }], FLAT)).toThrow(/^Energy in kWh/);
  });
});

describe('spreading energy', () => {
  test('cuts at the half-hours of the clock', () => {
    expect(spreadKwh('9', 6 * 60 + 45, 90)).toEqual([
      { minuteOfDay: 405, kwh: '1.5' },
      { minuteOfDay: 420, kwh: '3' },
      { minuteOfDay: 450, kwh: '3' },
      { minuteOfDay: 480, kwh: '1.5' },
    ]);
  });

  test('loses none of it', () => {
    fc.assert(
      fc.property(
        kwh,
        fc.integer({ min: 0, max: 2880 }),
        fc.integer({ min: 1, max: 3000 }),
        (energy, start, minutes) => {
          const slots = spreadKwh(energy, start, minutes);
          expect(slots.reduce((sum, slot) => sum.plus(slot.kwh), new Decimal(0)).toString()).toBe(energy);
          expect(slots.every((slot) => Number(slot.kwh) >= 0)).toBe(true);
        },
      ),
    );
  });

  test('loses none of a computed amount either, with more digits than a meter has', () => {
    const slots = spreadKwh('33.3333333333333333333333', 10, 95);
    const sum = slots.reduce((all, slot) => all.plus(slot.kwh), new Decimal(0));
    expect(sum.toString()).toBe('33.3333333333333333333333');
  });

  test('refuses a firing without length', () => {
    expect(() => spreadKwh('9', 0, 0)).toThrow(/^The length of the firing/);
  });
});

describe('the cheapest start', () => {
  test('lies where the firing fits into the cheap hours', () => {
    const firing = { kwh: '30', minutes: 420, earliest: 20 * 60, latest: 30 * 60 };
    expect(cheapestStart(firing, NIGHT_AND_DAY)).toEqual({ startMinute: 23 * 60, amountMinor: 372 });
  });

  test('is the earliest where all cost the same', () => {
    expect(cheapestStart({ kwh: '30', minutes: 420, earliest: 6 * 60 + 10, latest: 600 }, FLAT).startMinute).toBe(370);
  });

  test('is never dearer than any other half-hour allowed', () => {
    fc.assert(
      fc.property(
        anyBands,
        fc.integer({ min: 0, max: 1439 }),
        fc.integer({ min: 0, max: 600 }),
        (bands, earliest, span) => {
          const firing = { kwh: '31.4', minutes: 410, earliest, latest: earliest + span };
          const best = cheapestStart(firing, bands);
          expect(best.startMinute).toBeGreaterThanOrEqual(earliest);
          expect(best.startMinute).toBeLessThanOrEqual(earliest + span);
          for (let start = Math.ceil(earliest / 30) * 30; start <= earliest + span; start += 30) {
            const { amountMinor } = tariffCostMinor(spreadKwh(firing.kwh, start, firing.minutes), bands);
            expect(amountMinor).toBeGreaterThanOrEqual(best.amountMinor);
          }
        },
      ),
      { numRuns: 30 },
    );
  });

  test('refuses hours that end before they begin', () => {
    expect(() => cheapestStart({ kwh: '30', minutes: 420, earliest: 600, latest: 500 }, FLAT)).toThrow(
      /^The latest start/,
    );
  });
});
