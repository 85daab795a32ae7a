import { decimalIn, wholeIn } from '../maths/number.js';
import { Decimal, roundHalfUp } from '../money/money.js';

/**
 * The share of its rated power that a kiln draws over a firing, in percent, for want of logged firings. Common practice
 * (duty cycles that potters' guides give); a kiln's own meter readings replace them.
 */
export const ELEMENT_DUTY = { candling: '15', bisque: '50', glaze: '65' } as const;

/**
 * What kilns really drew for each litre of their chamber, full loads, from the lowest to the highest that was monitored: cone 06 for bisque,
 * cone 9 for glaze. I. Townshend, Clayart, July 2001, http://www.potters.org/subject43125.htm: 26 to 29 and 34 to 36 kWh in 73.6 litres.
 */
export const MONITORED_KWH_PER_LITRE = { bisque: ['0.35', '0.39'], glaze: ['0.46', '0.49'] } as const;

/** Energy for each litre of a chamber, which compares kilns of different sizes: kWh, two decimals. */
export function kwhPerLitre(kwh: string, chamberMm3: number): string {
  return decimalIn(kwh, 'The energy in kWh', 0, 1_000_000)
    .times(1_000_000)
    .div(wholeIn(chamberMm3, 'The volume of the chamber in mm³', 1, 1e11))
    .toDecimalPlaces(2)
    .toFixed();
}

/**
 * What a firing wears off what wears: its cost over its life.
 *
 * @param costMinor whole minor units, of new elements or the whole kiln
 * @param firings   how many it lasts
 * @returns whole minor units, rounded half up
 */
export function wearPerFiringMinor(costMinor: number, firings: number): number {
  wholeIn(costMinor, 'What is replaced, in minor units,', 0, 1_000_000_000);
  return roundHalfUp(new Decimal(costMinor).div(wholeIn(firings, 'The firings that it lasts', 1, 100_000)));
}

/**
 * Energy of a firing before it is fired: rated power * hours * duty.
 *
 * @returns kWh, exact
 */
export function predictedKwh(firing: { ratedKw: string; hours: string | number; dutyPercent: string }): string {
  return decimalIn(firing.ratedKw, 'The rated power in kW', 0, 10_000)
    .times(decimalIn(firing.hours, 'The hours of the firing', 0, 1000))
    .times(decimalIn(firing.dutyPercent, 'The duty in percent', 0, 100))
    .div(100)
    .toString();
}

/**
 * Energy of a firing by the kiln's meter: last reading less first.
 *
 * @param readings in the order of their time
 * @returns kWh, exact
 * @throws RangeError on fewer than two readings, or a meter that runs backwards
 */
export function meterKwh(readings: readonly { kwh: string }[]): string {
  const values = readings.map(({ kwh }) => decimalIn(kwh, 'A meter reading in kWh', 0, 1_000_000_000));
  const [first, ...later] = values;
  const last = later.at(-1);
  if (!first || !last) throw new RangeError('A firing needs a meter reading before it and one after. Add the other.');
  values.reduce((before: Decimal, value) => {
    if (value.lt(before)) {
      throw new RangeError(
        `The meter falls from ${before} to ${value} kWh. Look at both readings again; enter a new meter as one of its own.`,
      );
    }
    return value;
  }, new Decimal(0));
  return last.minus(first).toString();
}
