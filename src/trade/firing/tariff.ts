import { decimalIn, wholeIn } from '../maths/number.js';
import { Decimal, roundHalfUp, roundKeepingTotal } from '../money/money.js';

const DAY_MINUTES = 1440;
/** Electricity is metered and priced by half-hours. */
const STEP_MINUTES = 30;

/** A price from one minute of the local day up to, not including, another; perKwhMinor as a decimal string. */
export type Band = { fromMinute: number; toMinute: number; perKwhMinor: string };

/** Energy that begins to be drawn at a minute of the local day; it is priced whole by the band of that minute. */
export type Slot = { minuteOfDay: number; kwh: string };

/**
 * Bands, in any order, must cover the day once: a gap would fire for nothing, an overlap bill twice. A band past
 * midnight is written as two.
 *
 * @throws RangeError that says where the day is not covered
 */
export function validateBands(bands: readonly Band[]): void {
  let covered = 0;
  for (const { fromMinute, toMinute, perKwhMinor } of [...bands].sort((a, b) => a.fromMinute - b.fromMinute)) {
    wholeIn(fromMinute, 'The beginning of a band, in minutes of the day,', 0, DAY_MINUTES - 1);
    wholeIn(toMinute, 'The end of a band, in minutes of the day,', 1, DAY_MINUTES);
    decimalIn(perKwhMinor, 'The price per kWh in minor units', -100_000, 100_000);
    if (toMinute <= fromMinute) {
      throw new RangeError(
        `The band from ${clock(fromMinute)} ends before it begins. Write it as two, split at midnight.`,
      );
    }
    if (fromMinute !== covered) {
      const fault = fromMinute > covered ? 'no price' : 'two prices';
      const [start, end] = [Math.min(fromMinute, covered), Math.max(fromMinute, covered)];
      throw new RangeError(`The tariff has ${fault} from ${clock(start)} to ${clock(end)}. Correct its bands.`);
    }
    covered = toMinute;
  }
  if (covered !== DAY_MINUTES)
    throw new RangeError(`The tariff has no price from ${clock(covered)} to 24:00. Correct its bands.`);
}

function clock(minute: number): string {
  return `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
}

function energyByRate(slots: readonly Slot[], bands: readonly Band[]): { rate: Decimal; kwh: Decimal }[] {
  validateBands(bands);
  const byRate = new Map<string, { rate: Decimal; kwh: Decimal }>();
  for (const slot of slots) {
    const minute = wholeIn(slot.minuteOfDay, 'The minute of the day', 0, DAY_MINUTES - 1);
    const band = bands.find(({ fromMinute, toMinute }) => fromMinute <= minute && minute < toMinute) as Band;
    const rate = new Decimal(band.perKwhMinor);
    const line = byRate.get(rate.toString()) ?? { rate, kwh: new Decimal(0) };
    const kwh = decimalIn(slot.kwh, 'Energy in kWh', 0, 1_000_000);
    byRate.set(rate.toString(), { rate, kwh: line.kwh.plus(kwh) });
  }
  return [...byRate.values()];
}

export type TariffLine = { perKwhMinor: string; kwh: string; amountMinor: number };

/**
 * What energy costs under a tariff: one line for each price that it met, in the order met.
 *
 * @returns amountMinor is the exact sum rounded once, and the lines add up to it
 * @throws RangeError on bands that don't cover the day once, or a slot out of it
 */
export function tariffCostMinor(
  slots: readonly Slot[],
  bands: readonly Band[],
): { amountMinor: number; lines: TariffLine[] } {
  const energy = energyByRate(slots, bands);
  const { totalMinor, partsMinor } = roundKeepingTotal(energy.map(({ rate, kwh }) => rate.times(kwh)));
  const lines = energy.map(({ rate, kwh }, i) => ({
    perKwhMinor: rate.toString(),
    kwh: kwh.toString(),
    amountMinor: partsMinor[i] ?? 0,
  }));
  return { amountMinor: totalMinor, lines };
}

/**
 * Spreads energy evenly over a firing, cut at the half-hours of the clock; the slots add up to the energy exactly.
 *
 * @param startMinuteOfDay may lie past 1440: a start on the next day
 * @param minutes          1 to 10080 (a week)
 */
export function spreadKwh(kwh: string, startMinuteOfDay: number, minutes: number): Slot[] {
  const total = decimalIn(kwh, 'Energy in kWh', 0, 1_000_000);
  const start = wholeIn(startMinuteOfDay, 'The minute of the start', 0, 7 * DAY_MINUTES);
  const end = start + wholeIn(minutes, 'The length of the firing in minutes', 1, 7 * DAY_MINUTES);
  const drawnBy = (minute: number) => {
    const part = total
      .times(minute - start)
      .div(minutes)
      .toDecimalPlaces(12);
    return minute === end ? total : part;
  };
  const slots: Slot[] = [];
  for (let from = start; from < end; ) {
    const to = Math.min(end, (Math.floor(from / STEP_MINUTES) + 1) * STEP_MINUTES);
    // by difference of running sums: a rounded share for each slot would lose a trace of the energy
    slots.push({ minuteOfDay: from % DAY_MINUTES, kwh: drawnBy(to).minus(drawnBy(from)).toString() });
    from = to;
  }
  return slots;
}

/**
 * The cheapest time to start a firing, among the earliest time and the clock's half-hours after it, up to the latest.
 * Of equal ones the earliest is taken.
 *
 * @param firing earliest and latest in minutes of the local day; latest may lie past 1440, on the next day
 * @throws RangeError where latest lies before earliest
 */
export function cheapestStart(
  firing: { kwh: string; minutes: number; earliest: number; latest: number },
  bands: readonly Band[],
): { startMinute: number; amountMinor: number } {
  wholeIn(firing.earliest, 'The earliest start, in minutes of the day,', 0, DAY_MINUTES - 1);
  wholeIn(firing.latest, 'The latest start, in minutes of the day,', firing.earliest, 2 * DAY_MINUTES);
  const exactCost = (start: number) =>
    energyByRate(spreadKwh(firing.kwh, start, firing.minutes), bands).reduce(
      (sum, { rate, kwh }) => sum.plus(rate.times(kwh)),
      new Decimal(0),
    );
  let best = { startMinute: firing.earliest, cost: exactCost(firing.earliest) };
  const nextStep = (Math.floor(firing.earliest / STEP_MINUTES) + 1) * STEP_MINUTES;
  for (let startMinute = nextStep; startMinute <= firing.latest; startMinute += STEP_MINUTES) {
    const cost = exactCost(startMinute);
    if (cost.lt(best.cost)) best = { startMinute, cost };
  }
  return { startMinute: best.startMinute, amountMinor: roundHalfUp(best.cost) };
}
