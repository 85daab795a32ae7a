import { type FiringBetween, minutesOf, type Wait, waitsBetween } from './waiting.js';

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

export type Recipe = {
  purposes: readonly Purpose[];
  dryingDays: number;
  firings: readonly (FiringBetween & { kind: FiringKind })[];
};

/** What must lie between a session and the last one before it whose ware it works on. */
export type Gap = { after: number; waits: Wait[]; minutes: number };

/**
 * What must pass before a session of a plan can begin, counted from the end of session `after`; null where it needs nothing of those
 * before it, or the plan leaves out the firing that it needs, so that nothing is known of it.
 *
 * @param at the session's place in the plan, from 0
 */
export function gapBefore({ purposes, dryingDays, firings }: Recipe, at: number): Gap | null {
  const need = NEEDS[purposes[at] ?? 'making'];
  const after = purposes.findLastIndex((purpose, j) => j < at && need?.from.includes(purpose));
  const between = firings.filter(({ kind }) => kind === need?.firing);
  if (!need || after < 0 || between.length === 0) return null;
  const waits = waitsBetween(need.dries ? dryingDays : 0, between);
  return { after, waits, minutes: minutesOf(waits) };
}
