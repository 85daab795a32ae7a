import { describe, expect, test } from 'vitest';
import { last100RateC, programmedMinutes, type Segment } from '../../src/trade/firing/schedule.js';

// User manual of an electric kiln's controller, Appendix A,
// https://manualshive.com/en/manual/bartlett/700-series/3966174?page=25. Mark: read; each total rechecked from a start
// at 70 °F. Segments are [°F per hour, °F]; a rate converts by 5/9, without the 32 of a temperature.

const celsius = (f: number) => ((f - 32) * 5) / 9;
const segmentsOf = (steps: readonly (readonly [number, number])[]): Segment[] =>
  steps.map(([rate, target]) => ({ ratePerHourC: (rate * 5) / 9, targetC: celsius(target), holdMinutes: 0 }));
const START_C = celsius(70);

const SLOW_BISQUE_04 = [
  [80, 250],
  [200, 1000],
  [100, 1100],
  [180, 1695],
  [80, 1945],
] as const;

const PROFILES = [
  ['cone 04 slow bisque', SLOW_BISQUE_04, 13, 26, 80],
  [
    'cone 04 fast bisque',
    [
      [120, 250],
      [300, 1000],
      [150, 1100],
      [180, 1695],
      [108, 1945],
    ],
    10,
    17,
    108,
  ],
  [
    'cone 04 slow glaze',
    [
      [150, 250],
      [400, 1695],
      [120, 1945],
    ],
    6,
    54,
    120,
  ],
  [
    'cone 04 fast glaze',
    [
      [570, 1695],
      [200, 1945],
    ],
    4,
    6,
    200,
  ],
  [
    'cone 6 slow bisque',
    [
      [80, 250],
      [200, 1000],
      [100, 1100],
      [180, 1982],
      [80, 2232],
    ],
    15,
    2,
    80,
  ],
  [
    'cone 6 fast bisque',
    [
      [120, 250],
      [300, 1000],
      [150, 1100],
      [225, 1982],
      [108, 2232],
    ],
    10,
    54,
    108,
  ],
  [
    'cone 6 slow glaze',
    [
      [150, 250],
      [400, 1982],
      [120, 2232],
    ],
    7,
    37,
    120,
  ],
  [
    'cone 6 fast glaze',
    [
      [570, 1982],
      [200, 2232],
    ],
    4,
    36,
    200,
  ],
] as const;

describe('firing schedules of a controller', () => {
  test.each(PROFILES)('%s', (_name, steps, hours, minutes, lastRateF) => {
    const segments = segmentsOf(steps);
    expect(Math.abs(programmedMinutes(segments, START_C) - (hours * 60 + minutes))).toBeLessThan(1);
    // the last segment begins 250 °F below the cone, so that cones see its rate alone
    expect(last100RateC(segments, START_C)).toBeCloseTo((lastRateF * 5) / 9, 6);
  });

  test('the stages of the slow bisque take 2.25, 3.75, 1.00, 3.31 and 3.13 hours', () => {
    const hours = SLOW_BISQUE_04.map(
      (_, i) => programmedMinutes(segmentsOf(SLOW_BISQUE_04.slice(0, i + 1)), START_C) / 60,
    );
    const stages = hours.map((sum, i) => sum - (hours[i - 1] ?? 0));
    for (const [i, printed] of [2.25, 3.75, 1.0, 3.31, 3.13].entries()) expect(stages[i]).toBeCloseTo(printed, 1);
  });

  test('108 °F per hour are the 60 °C per hour of the cone chart', () => {
    expect(last100RateC(segmentsOf([[108, 1945]]), START_C)).toBeCloseTo(60, 9);
  });
});
