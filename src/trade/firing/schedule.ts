import { decimalIn } from '../maths/number.js';
import { coneTemperatureC, OUTSIDE_THE_CHART } from './cones.js';

/** One step of a firing schedule: climb or cool at a rate (always above zero) to a target, then hold it. */
export type Segment = { ratePerHourC: number; targetC: number; holdMinutes: number };

/** A chamber that has stood open, in °C: an assumption, and the start of every duration that is shown. */
export const ROOM_C = 20;

type Moment = { minute: number; c: number };

/** The corners of the programmed curve, each with its minute and temperature. */
function corners(segments: readonly Segment[], startC: number): Moment[] {
  decimalIn(startC, 'The temperature at the start in °C', -30, 1400);
  if (segments.length === 0) throw new RangeError('A schedule needs at least one segment.');
  const moments: Moment[] = [{ minute: 0, c: startC }];
  let now = { minute: 0, c: startC };
  for (const { ratePerHourC, targetC, holdMinutes } of segments) {
    decimalIn(ratePerHourC, 'The rate of a segment in °C per hour', 1, 5000);
    decimalIn(targetC, 'The target of a segment in °C', 0, 1400);
    decimalIn(holdMinutes, 'The hold of a segment in minutes', 0, 10_000);
    now = { minute: now.minute + (Math.abs(targetC - now.c) / ratePerHourC) * 60, c: targetC };
    moments.push(now);
    if (holdMinutes > 0) {
      now = { minute: now.minute + holdMinutes, c: targetC };
      moments.push(now);
    }
  }
  return moments;
}

/**
 * How long a schedule takes as programmed, holds and cooling segments included, in minutes with their fraction. A real
 * kiln takes longer: its elements tire.
 *
 * @param startC of the chamber
 * @throws RangeError on no segments, or on a rate, target or hold out of reach
 */
export function programmedMinutes(segments: readonly Segment[], startC: number): number {
  return corners(segments, startC).at(-1)?.minute ?? 0;
}

/**
 * The mean rate over the last 100 °C before the highest temperature is first reached, in °C per hour: what cones go by.
 * Holds on the way count as time, the hold at the top does not. A schedule that climbs less is taken whole.
 *
 * @throws RangeError where the schedule never climbs
 */
export function last100RateC(segments: readonly Segment[], startC: number): number {
  const moments = corners(segments, startC);
  const peakC = Math.max(...moments.map(({ c }) => c));
  const peakAt = moments.findIndex(({ c }) => c === peakC);
  if (peakAt === 0) throw new RangeError('The schedule never climbs above its start. Add a segment that does.');
  const climb = moments.slice(0, peakAt + 1);
  const fromC = peakC - 100;
  const lastBelow = climb.findLastIndex(({ c }) => c <= fromC);
  const begin = climb[Math.max(lastBelow, 0)] as Moment;
  const next = climb[Math.max(lastBelow, 0) + 1] as Moment;
  const crossedC = Math.max(begin.c, fromC);
  const crossedMinute = begin.minute + ((next.minute - begin.minute) * (crossedC - begin.c)) / (next.c - begin.c);
  const peakMinute = climb.at(-1)?.minute ?? 0;
  return ((peakC - crossedC) / (peakMinute - crossedMinute)) * 60;
}

/** What a schedule comes to as programmed: its highest temperature, its length, and where its cone goes down at its rate. */
export function scheduleFigures({ cone, segments }: { cone: string | null; segments: readonly Segment[] }) {
  const rate = last100RateC(segments, ROOM_C);
  const downC = cone === null ? OUTSIDE_THE_CHART : coneTemperatureC(cone, rate);
  return {
    topC: Math.max(...segments.map((segment) => segment.targetC)),
    programmedMinutes: Math.ceil(programmedMinutes(segments, ROOM_C)),
    coneDownC: downC === OUTSIDE_THE_CHART ? null : downC,
  };
}
