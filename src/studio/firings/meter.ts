import { Problem } from '../../problems.js';
import { meterKwh } from '../../trade/firing/energy.js';
import type { FiredBetween, MeterReading } from '../../trade/firing/metered-energy.js';
import { Decimal } from '../../trade/money/money.js';
import { momentInWords } from '../courses/session-dates.js';
import type { Studio } from '../settings/contract.js';

/** Who switches a kiln on reads its meter just before or just after. */
const SLACK_MILLISECONDS = 30 * 60_000;
/** Mains above its nominal voltage makes a kiln draw more than its plate says. */
const ABOVE_PLATE = '1.15';

/** Refuses readings that don't span the firing, or that its kiln can't have caused: a bill would rest on them. */
export function judgeReadings(
  firing: { number: number; ratedKw: string; studio: Studio; fired: FiredBetween },
  readings: readonly MeterReading[],
): void {
  const { number, ratedKw, studio, fired } = firing;
  const [first, last] = [readings[0], readings.at(-1)];
  const enter = 'Enter it on the page Kilns.';
  if (!first || !last || readings.length < 2)
    throw new Problem(
      'reading-missing',
      `Firing ${number} has ${readings.length === 0 ? 'no meter reading' : 'one meter reading'}. Enter what the meter showed before the start and after the end, on the page Kilns.`,
    );
  if (first.at.getTime() > fired.startedAt.getTime() + SLACK_MILLISECONDS)
    throw new Problem(
      'reading-missing',
      `The first meter reading is of ${momentInWords(first.at, studio)}, and the firing started on ${momentInWords(fired.startedAt, studio)}: what the meter showed by then is missing. ${enter}`,
    );
  if (last.at.getTime() < fired.endedAt.getTime() - SLACK_MILLISECONDS)
    throw new Problem(
      'reading-missing',
      `The last meter reading is of ${momentInWords(last.at, studio)}, and the firing ended on ${momentInWords(fired.endedAt, studio)}: what the meter showed after that is missing. ${enter}`,
    );

  const kwh = meterKwh(readings);
  // what a reading of long before or after counts besides this firing is another one's
  const from = Math.max(first.at.getTime(), fired.startedAt.getTime() - SLACK_MILLISECONDS);
  const to = Math.min(last.at.getTime(), fired.endedAt.getTime() + SLACK_MILLISECONDS);
  const hours = new Decimal(to - from).div(3_600_000);
  const most = hours.times(ratedKw).times(ABOVE_PLATE);
  if (new Decimal(kwh).isZero() || most.lt(kwh))
    throw new Problem(
      'reading-impossible',
      `By its readings firing ${number} used ${kwh} kWh, but this kiln of ${ratedKw} kW can use at most ${most.toFixed(1)}. Look at them again: they must be of this firing alone, and to correct one, enter it again with the same time.`,
    );
}
