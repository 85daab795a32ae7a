import { Decimal } from './money.js';
import { decimalIn } from './number.js';

/**
 * The share of its rated power that a kiln draws over a firing, in percent, for want of logged firings. Common practice
 * (duty cycles that potters' guides give); a kiln's own meter readings replace them.
 */
export const DUTY = { candling: '15', bisque: '50', glaze: '65' } as const;

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
