import { decimalIn } from '../maths/number.js';
import { CONE_CHART } from './cone-chart.js';

export type Cone = (typeof CONE_CHART)[number]['name'];
export type ConeRow = { name: Cone; c15: number | null; c60: number; c150: number };
export const OUTSIDE_THE_CHART = 'outside the chart';

/** The chart, coolest cone first. c15, c60 and c150 are °C at 15, 60 and 150 °C/h; the three coolest have no slow value. */
export const CONES: readonly ConeRow[] = CONE_CHART;

/** What is said where another cone is typed: large, small and iron-free ones have numbers alike and go down elsewhere. */
export const CONE_FAULT =
  'must be a self-supporting cone from 022 to 14, such as "06" or "6". Large, small and iron-free cones go down at other temperatures, and their charts are not known here';

/** Cones bend over 15 to 25 minutes, so that a few minutes' hold changes nothing; a longer one adds work that no chart tells. */
const HOLD_THAT_COUNTS_MINUTES = 5;

export function isCone(text: string): text is Cone {
  return CONES.some((row) => row.name === text);
}

/**
 * The temperature at which a cone is down, linear between the chart's three rates. It is never extrapolated: beyond
 * them nobody has measured, and a guess would ruin ware.
 *
 * @param ratePerHourC heating rate over the last 100 °C
 * @returns °C to one decimal
 * @throws RangeError on a cone that is not in the chart, or a rate that is no number
 */
export function coneTemperatureC(cone: string, ratePerHourC: number): number | typeof OUTSIDE_THE_CHART {
  const row = CONES.find(({ name }) => name === cone);
  if (!row) throw new RangeError(`There is no cone "${cone}" in the chart. It runs from 022 to 14, such as 06 or 6.`);
  decimalIn(ratePerHourC, 'The heating rate in °C per hour', 0, 10_000);
  const { c15, c60, c150 } = row;
  if (ratePerHourC >= 60 && ratePerHourC <= 150) return between(ratePerHourC, 60, c60, 150, c150);
  if (c15 !== null && ratePerHourC >= 15 && ratePerHourC < 60) return between(ratePerHourC, 15, c15, 60, c60);
  return OUTSIDE_THE_CHART;
}

function between(rate: number, rate0: number, c0: number, rate1: number, c1: number): number {
  return Math.round((c0 + ((c1 - c0) * (rate - rate0)) / (rate1 - rate0)) * 10) / 10;
}

/**
 * An estimate, from the log, of the hottest cone that went down. The witness cones are the record, this is not.
 *
 * @param log highest temperature, rate over the last 100 °C before it, and how long it was held there
 * @returns the cone, or 'outside the chart' where rate, temperature or hold leave it
 */
export function coneReached(log: {
  peakC: number;
  last100RateC: number;
  holdMinutes: number;
}): Cone | typeof OUTSIDE_THE_CHART {
  decimalIn(log.peakC, 'The highest temperature in °C', -50, 2000);
  decimalIn(log.holdMinutes, 'The hold in minutes', 0, 100_000);
  if (log.holdMinutes > HOLD_THAT_COUNTS_MINUTES) return OUTSIDE_THE_CHART;
  let reached: Cone | typeof OUTSIDE_THE_CHART = OUTSIDE_THE_CHART;
  for (const { name } of CONES) {
    const downC = coneTemperatureC(name, log.last100RateC);
    if (downC !== OUTSIDE_THE_CHART && downC <= log.peakC) reached = name;
  }
  return reached;
}
