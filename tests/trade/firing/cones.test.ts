import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CONES, coneReached, coneTemperatureC, isCone, OUTSIDE_THE_CHART } from '../../../src/trade/firing/cones.js';

const place = (of: string) => CONES.findIndex(({ name }) => name === of);
const cone = fc.constantFrom(...CONES.map(({ name }) => name));

describe('the temperature of a cone', () => {
  test('between two rates lies between their temperatures', () => {
    expect(coneTemperatureC('6', 105)).toBe(1232.5); // halfway from 1222 to 1243
    expect(coneTemperatureC('6', 37.5)).toBe(1203.5); // halfway from 1185 to 1222
  });

  test('rises with the rate and with the cone, all over the chart', () => {
    fc.assert(
      fc.property(cone, cone, fc.double({ min: 15, max: 145, noNaN: true }), (a, b, rate) => {
        const at = coneTemperatureC(a, rate);
        if (at === OUTSIDE_THE_CHART) return;
        expect(coneTemperatureC(a, rate + 5)).toBeGreaterThan(at);
        const other = coneTemperatureC(b, rate);
        if (other !== OUTSIDE_THE_CHART) expect(Math.sign(at - other)).toBe(Math.sign(place(a) - place(b)));
      }),
    );
  });

  test('is never extrapolated', () => {
    for (const rate of [0, 14.9, 150.1, 300]) expect(coneTemperatureC('6', rate)).toBe(OUTSIDE_THE_CHART);
    expect(coneTemperatureC('020', 59)).toBe(OUTSIDE_THE_CHART);
  });

  test('is asked for a cone that there is', () => {
    expect(() => coneTemperatureC('23', 60)).toThrow('There is no cone "23" in the chart');
    expect(() => coneTemperatureC('6', Number.NaN)).toThrow(RangeError);
    expect([isCone('06'), isCone('5 1/2'), isCone('006')]).toEqual([true, true, false]);
  });
});

test('06 is cooler than 6, and stands before it', () => {
  expect(place('06')).toBeLessThan(place('6'));
  expect(place('10')).toBeGreaterThan(place('9'));
});

describe('the cone that a log shows', () => {
  test('is the hottest that went down', () => {
    expect(coneReached({ peakC: 1222, last100RateC: 60, holdMinutes: 0 })).toBe('6');
    expect(coneReached({ peakC: 1221.9, last100RateC: 60, holdMinutes: 5 })).toBe('5 1/2');
    expect(coneReached({ peakC: 1222, last100RateC: 150, holdMinutes: 0 })).toBe('5');
  });

  test('is outside the chart where rate, hold or temperature leave it', () => {
    expect(coneReached({ peakC: 1222, last100RateC: 200, holdMinutes: 0 })).toBe(OUTSIDE_THE_CHART);
    expect(coneReached({ peakC: 1222, last100RateC: 60, holdMinutes: 15 })).toBe(OUTSIDE_THE_CHART);
    expect(coneReached({ peakC: 500, last100RateC: 60, holdMinutes: 0 })).toBe(OUTSIDE_THE_CHART);
    expect(() => coneReached({ peakC: Number.NaN, last100RateC: 60, holdMinutes: 0 })).toThrow(RangeError);
  });
});
