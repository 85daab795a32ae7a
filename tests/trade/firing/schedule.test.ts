import { describe, expect, test } from 'vitest';
import { last100RateC, programmedMinutes, type Segment, scheduleFigures } from '../../../src/trade/firing/schedule.js';

const segment = (ratePerHourC: number, targetC: number, holdMinutes = 0): Segment => ({
  ratePerHourC,
  targetC,
  holdMinutes,
});

describe('the programmed duration', () => {
  test('counts climbs, holds and cooling', () => {
    expect(programmedMinutes([segment(100, 120, 30), segment(50, 20, 10)], 20)).toBe(60 + 30 + 120 + 10);
  });

  test('counts from the temperature that the chamber has', () => {
    expect(programmedMinutes([segment(100, 120)], 70)).toBe(30);
  });

  test('refuses what cannot be fired', () => {
    expect(() => programmedMinutes([], 20)).toThrow(/at least one segment/);
    expect(() => programmedMinutes([segment(0, 100)], 20)).toThrow(/^The rate of a segment/);
    expect(() => programmedMinutes([segment(100, 1500)], 20)).toThrow(/^The target of a segment/);
    expect(() => programmedMinutes([segment(100, 100, -1)], 20)).toThrow(/^The hold of a segment/);
    expect(() => programmedMinutes([segment(100, 100)], Number.NaN)).toThrow(/^The temperature at the start/);
  });
});

describe('the rate over the last 100 °C', () => {
  test('is that of the last segment where it is long enough', () => {
    expect(last100RateC([segment(150, 1000), segment(60, 1222, 15)], 20)).toBeCloseTo(60, 9);
  });

  test('is the mean where it is not', () => {
    // 50 °C at 100 per hour and 50 °C at 50 per hour take an hour and a half
    expect(last100RateC([segment(100, 1150), segment(50, 1200)], 20)).toBeCloseTo(100 / 1.5, 9);
  });

  test('counts a hold on the way, not the one at the top, nor cooling after it', () => {
    const held = [segment(100, 1150, 30), segment(100, 1200, 60), segment(80, 1000, 20)];
    expect(last100RateC(held, 20)).toBeCloseTo(100 / 1.5, 9);
  });

  test('counts a dip on the way', () => {
    // crosses 1100, rises to 1150, falls to 1120 and rises to 1200: 50 + 30 + 80 °C at 100 per hour
    const dipping = [segment(100, 1150), segment(100, 1120), segment(100, 1200)];
    expect(last100RateC(dipping, 20)).toBeCloseTo(100 / 1.6, 9);
  });

  test('takes a shorter climb whole, and none not at all', () => {
    expect(last100RateC([segment(60, 95, 120)], 20)).toBeCloseTo(60, 9);
    expect(() => last100RateC([segment(60, 100)], 900)).toThrow(/never climbs/);
  });
});

describe('the figures of a schedule', () => {
  const segments = [segment(100, 1000), segment(60, 1222, 15), segment(100, 900)];

  test('are its highest temperature, wherever it lies, and its length in whole minutes, rounded up', () => {
    const { topC, programmedMinutes: minutes } = scheduleFigures({ cone: null, segments });
    expect(topC).toBe(1222);
    expect(minutes).toBe(Math.ceil((980 / 100 + 222 / 60 + 322 / 100) * 60 + 15));
  });

  test('say where its cone goes down at its rate, and nothing of a schedule without one', () => {
    expect(scheduleFigures({ cone: '6', segments }).coneDownC).toBeCloseTo(1222, 0);
    expect(scheduleFigures({ cone: null, segments }).coneDownC).toBeNull();
  });
});
