import { minuteOfDay } from '../calendar/calendar.js';
import { Decimal } from '../money/money.js';
import { meterKwh } from './energy.js';
import { type Slot, spreadKwh } from './tariff.js';

export type MeterReading = { at: Date; kwh: string };
export type FiredBetween = { startedAt: Date; endedAt: Date };

const MINUTE = 60_000;
const STEP_MINUTES = 30;

/**
 * What a firing drew by its meter, in kWh, and when: between two readings the energy is spread evenly over the time in which the
 * kiln was on. Slots bear the minute of the local day, also across a change of the clocks.
 *
 * @param readings by time, at least two, rising
 */
export function energyDrawn(
  readings: readonly MeterReading[],
  fired: FiredBetween,
  timeZone: string,
): { kwh: string; slots: Slot[] } {
  const slots = readings.slice(1).flatMap((reading, i) => {
    const before = readings[i] as MeterReading;
    const kwh = new Decimal(reading.kwh).minus(before.kwh).toString();
    const from = clamp(before.at, fired);
    const minutes = Math.max(1, Math.round((clamp(reading.at, fired).getTime() - from.getTime()) / MINUTE));
    return byTheClock(spreadKwh(kwh, minuteOfDay(from, timeZone), minutes), from, timeZone);
  });
  return { kwh: meterKwh(readings), slots };
}

/** spreadKwh knows no clock changes: each slot is given the minute that the clock on the wall shows when it begins. */
function byTheClock(slots: readonly Slot[], from: Date, timeZone: string): Slot[] {
  let at = from.getTime();
  return slots.map(({ minuteOfDay: minute, kwh }) => {
    const shown = minuteOfDay(new Date(at), timeZone);
    at += (STEP_MINUTES - (minute % STEP_MINUTES)) * MINUTE;
    return { minuteOfDay: shown, kwh };
  });
}

function clamp(at: Date, { startedAt, endedAt }: FiredBetween): Date {
  return at < startedAt ? startedAt : at > endedAt ? endedAt : at;
}
