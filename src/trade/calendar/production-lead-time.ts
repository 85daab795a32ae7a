import { programmedMinutes, ROOM_C, type Segment } from '../firing/schedule.js';

/** What a session of a course is for, in the order in which ware goes through it. */
export const PURPOSES = ['making', 'finishing', 'slip', 'glazing', 'lustre'] as const;
export type Purpose = (typeof PURPOSES)[number];

type FiringKind = 'bisque' | 'glaze' | 'lustre';
type Need = { from: readonly Purpose[]; dries: boolean; firing: FiringKind };

/** What a session works on: ware of which sessions before it, whether it must dry first, and through which firing it must have gone. */
const NEEDS: Partial<Record<Purpose, Need>> = {
  glazing: { from: ['making', 'finishing', 'slip'], dries: true, firing: 'bisque' },
  lustre: { from: ['glazing'], dries: false, firing: 'glaze' },
};

export type ProductionPlan = {
  purposes: readonly Purpose[];
  dryingDays: number;
  firings: readonly (FiringBetween & { kind: FiringKind })[];
};

/** What must be between a session and the last one before it whose ware it works on. */
export type Gap = { after: number; waits: Wait[]; minutes: number };

/**
 * What must pass before a session of a plan can begin, counted from the end of session `after`; null where it needs nothing of those
 * before it, or the plan leaves out the firing that it needs, so that nothing is known of it.
 *
 * @param at the session's place in the plan, from 0
 */
export function gapBefore({ purposes, dryingDays, firings }: ProductionPlan, at: number): Gap | null {
  const need = NEEDS[purposes[at] ?? 'making'];
  const after = purposes.findLastIndex((purpose, j) => j < at && need?.from.includes(purpose));
  const between = firings.filter(({ kind }) => kind === need?.firing);
  if (!need || after < 0 || between.length === 0) return null;
  const waits = waitsBetween(need.dries ? dryingDays : 0, between);
  return { after, waits, minutes: totalMinutes(waits) };
}

/** A firing on the way from one session to the next, in a chamber that begins at room temperature. */
export type FiringBetween = { name: string; segments: readonly Segment[]; coolingHours: number };

/** One thing that ware waits for between two sessions. */
export type Wait = { what: string; hours: number };

/**
 * What must pass before ware of one session can be worked on in a later one: it dries, then each firing runs its schedule and the
 * kiln cools, one after the other. That is the least: queues, a late start and tired elements come on top. That greenware must be
 * dry right through before it is fired is common practice; damp ware bursts.
 *
 * @param dryingDays 0 where the ware is dry already
 * @throws RangeError on a schedule without segments
 */
export function waitsBetween(dryingDays: number, firings: readonly FiringBetween[]): Wait[] {
  const drying = dryingDays > 0 ? [{ what: 'drying', hours: dryingDays * 24 }] : [];
  const fired = firings.flatMap(({ name, segments, coolingHours }) => [
    { what: `"${name}"`, hours: programmedMinutes(segments, ROOM_C) / 60 },
    { what: 'cooling', hours: coolingHours },
  ]);
  return [...drying, ...fired].filter(({ hours }) => hours > 0);
}

/** All of it, in whole minutes, rounded up: a minute less would not do. */
export function totalMinutes(waits: readonly Wait[]): number {
  return Math.ceil(waits.reduce((sum, { hours }) => sum + hours * 60, 0));
}

/** "8 days", "36 hours", "9.5 hours". */
export function hoursInWords(hours: number): string {
  if (hours >= 48 && hours % 24 === 0) return `${hours / 24} days`;
  const rounded = Math.ceil(hours * 10) / 10;
  return `${rounded} ${rounded === 1 ? 'hour' : 'hours'}`;
}
