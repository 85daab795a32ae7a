import type { Schemas } from '../../../api/client';
import { capital, type Formatter } from '../../../format/formatter';

export type Firing = Schemas['Firing'];
type Schedule = Pick<Schemas['Schedule'], 'programmedMinutes'>;

export const STATES: Record<Firing['state'], string> = {
  planned: 'Planned',
  firing: 'In the kiln',
  unloaded: 'Unloaded, fees to work out',
  settled: 'Done',
  failed: 'Failed',
};

const MINUTE_MILLISECONDS = 60_000;

/** When it should be cold: it takes as long as was planned, from whenever it started. */
function coldAt({
  startedAt,
  plannedFrom,
  plannedTo,
}: Pick<Firing, 'startedAt' | 'plannedFrom' | 'plannedTo'>): number {
  return Date.parse(startedAt ?? plannedFrom) + Date.parse(plannedTo) - Date.parse(plannedFrom);
}

/**
 * What a firing is at. Nobody notes when a kiln turns from heating to cooling, so that is told by its schedule: "by its schedule" says so.
 */
export function phaseOf(firing: Firing, schedule: Schedule | undefined, now: number): string {
  if (firing.state === 'planned') return Date.parse(firing.plannedFrom) < now ? 'Planned, not started yet' : 'Planned';
  if (firing.state !== 'firing') return STATES[firing.state];
  if (coldAt(firing) <= now) return 'To unload';
  const minutes = schedule?.programmedMinutes;
  const isHeating =
    minutes !== undefined &&
    firing.startedAt !== null &&
    now < Date.parse(firing.startedAt) + minutes * MINUTE_MILLISECONDS;
  return isHeating ? 'Firing' : 'Cooling, by its schedule';
}

export const firingCalled = ({ kind, number }: Pick<Firing, 'kind' | 'number'>): string =>
  `${capital(kind)} firing ${number}`;

/** From when, and when it can be or was unloaded. */
export function timesOf(firing: Firing, { date, dayOf, time }: Formatter): string {
  const at = (instant: string) => `${date(dayOf(instant))}, ${time(instant)}`;
  const from = at(firing.startedAt ?? firing.plannedFrom);
  if (firing.unloadedAt) return `${from} to ${at(firing.unloadedAt)}`;
  return `${from}; cold by ${at(new Date(coldAt(firing)).toISOString())}`;
}
