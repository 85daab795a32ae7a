import { chanceAbove, type Distribution, distributionAt, NO_UNITS, type TwoTotals } from '../maths/distribution.js';
import type { DrawPlan } from './demand.js';
import { type Gate, type Survivors, survivorsBy } from './survivors.js';
import { type TotalDrawn, totalDrawsBy } from './total-draws.js';
import type { Precision } from './work-limit.js';

// The shelf day by day, drawn first in, first out. What has gone from it grows by what is drawn, and after a day on which something
// spoils it is at least what has spoilt by then. It has run short once more has gone than had come. Both look back only where the past
// matters: at a day on which something spoils, if that may not all have been used, and at the last day before something comes, if the
// shelf may be short by then. Those days are gates (survivors.ts); without any, the last day says it all, since what has gone only grows.

/** A day on which something is drawn, arrives or spoils, in base units. */
export type ShelfDay = {
  day: string;
  /** what was on the shelf and has come by the end of this day, used or not */
  come: number;
  /** what of it is of no use after this day, used or not; 0 where nothing spoils on it */
  spoilt: number;
};

/** The end of a day: `gone` is drawn, or spoilt before it was, beyond `drawn.known` and in cells, as far as `past` says. */
export type ShelfState = { drawn: TotalDrawn; gone: TwoTotals; past: Past };

/** What must be known of the days that are over; `overlooked`: the chance that it was otherwise than the gates say. */
type Past = { gates: readonly Gate[]; before: Distribution; open: readonly DrawPlan[]; overlooked: number };

/** What has gone from the shelf by the end of each day, in the order of the days, whether it ran short or not. */
export function stockStatesByDay(
  days: readonly ShelfDay[],
  drawings: readonly DrawPlan[],
  by: Precision,
): ShelfState[] {
  const drawnBy = totalDrawsBy(drawings, by.step);
  const open = drawings.filter(({ chances }) => chances.length > 1);
  let past: Past = { gates: [], before: NO_UNITS, open, overlooked: 0 };
  let goneBy = goneSince(past, by);
  return days.map((today) => {
    const drawn = drawnBy(today.day);
    const { gone } = goneBy(today.day);
    const state = { drawn, gone, past };
    const next = spoiling(past, today, { gone, fallen: 0, known: drawn.known }, by);
    if (next !== past) goneBy = goneSince(next, by);
    past = next;
    return state;
  });
}

/** How a walk over days stands: what must be known of them (of the states, until it may have run short), and the chances so far. */
export type Walk = { past: Past | undefined; short: number; unlikely: number };
const START: Walk = { past: undefined, short: 0, unlikely: 0 };

/**
 * The chance of having run short by the end of each day; too high by `overlooked` at most.
 *
 * @param states as shelfBy gives them, for the same days
 * @param start  where the days before these ended
 * @param rises  whether something comes right after the last of these
 */
export function shortBy(
  days: readonly ShelfDay[],
  states: readonly ShelfState[],
  by: Precision,
  { start = START, rises = false } = {},
): { shorts: { short: number; overlooked: number }[]; end: Walk } {
  let { past, short, unlikely } = start;
  let goneBy = past && goneSince(past, by);
  const shorts = days.map((today, i) => {
    const state = states[i] as ShelfState;
    const isLast = i === days.length - 1 ? rises : (days[i + 1]?.come ?? 0) > today.come;
    const room = today.come - state.drawn.known;
    const shortAtAll = chanceAbove(state.gone, room, by.step);
    if (goneBy && shortAtAll <= by.overlook && today.spoilt === 0) {
      const overlooked = unlikely + (past ?? state.past).overlooked + shortAtAll;
      const shown = { short: Math.min(1, short + shortAtAll), overlooked };
      if (isLast) [short, unlikely] = [shown.short, unlikely + shortAtAll];
      return shown;
    }
    const { gone, fallen } = goneBy ? goneBy(today.day) : { gone: state.gone, fallen: 0 };
    const overlooked = unlikely + (past ?? state.past).overlooked;
    const shortNow = goneBy ? chanceAbove(gone, room, by.step) : shortAtAll;
    short = Math.min(1, fallen + shortNow + overlooked);
    let next = past;
    if (isLast && shortNow <= by.overlook) unlikely += shortNow;
    else if (isLast) next = withGate(past ?? state.past, { day: today.day, most: Math.floor(room / by.step) });
    if (next) next = spoiling(next, today, { gone, fallen, known: state.drawn.known }, by);
    if (next && next !== past) goneBy = goneSince(next, by);
    past = next;
    return { short, overlooked };
  });
  return { shorts, end: { past, short, unlikely } };
}

const withGate = (past: Past, gate: Partial<Gate> & { day: string }): Past => ({
  ...past,
  gates: [...past.gates, { most: Number.POSITIVE_INFINITY, least: Number.NEGATIVE_INFINITY, ...gate }],
});

/** With the end of a day on which something spoils, if it may not all have been used. */
function spoiling(
  past: Past,
  { day, spoilt }: ShelfDay,
  { gone, fallen, known }: { gone: TwoTotals; fallen: number; known: number },
  { step, overlook }: Precision,
): Past {
  if (spoilt === 0) return past;
  const used = Math.min(1, fallen + chanceAbove(gone, spoilt - known - 1, step));
  const unused = 1 - used;
  if (unused <= Math.min(used, overlook)) return { ...past, overlooked: past.overlooked + unused };
  if (used > overlook) return withGate(past, { day, least: (spoilt - known) / step });
  // some of it is left for sure, whatever was drawn before
  const open = past.open.flatMap((drawing) => drawnAfter(drawing, day));
  return { gates: [], before: distributionAt(spoilt - known, step), open, overlooked: past.overlooked + used };
}

/** What has gone by the end of any day from now on; days must be asked for in their order. */
function goneSince(past: Past, by: Precision) {
  const { gates, before, open } = past;
  const since = gates.at(-1)?.day;
  if (since === undefined) {
    const drawnBy = totalDrawsBy(open, by.step, before);
    return (day: string) => ({ gone: drawnBy(day).spread, fallen: 0 });
  }
  const later = open.filter(({ first }) => first > since);
  const over = open.reduce((end, { first, last }) => (first <= since && last > end ? last : end), since);
  let known: { end: string; survivors: Survivors; drawnBy: ReturnType<typeof totalDrawsBy> } | undefined;
  return (day: string) =>
    onceOf(past, `gone ${day}`, (): { gone: TwoTotals; fallen: number } => {
      const end = day < over ? day : over; // from then on nobody who began before the gate draws any more
      if (known?.end !== end) {
        const survivors = survivorsOf(past, end, by);
        known = { end, survivors, drawnBy: totalDrawsBy(later, by.step, survivors.gone) };
      }
      return { gone: known.drawnBy(day).spread, fallen: known.survivors.fallen };
    });
}

const survivorsOf = (past: Past, end: string, { step, work }: Precision): Survivors =>
  onceOf(past, `survivors ${end}`, () =>
    survivorsBy(end, past.gates, { before: past.before, open: past.open, step, work }),
  );

const found = new WeakMap<Past, Map<string, unknown>>();

/** Worked out once: whoever looks for the fewest packs walks on from the same past again and again. */
function onceOf<T>(past: Past, what: string, workOut: () => T): T {
  const known = found.get(past) ?? new Map<string, unknown>();
  found.set(past, known);
  if (!known.has(what)) known.set(what, workOut());
  return known.get(what) as T;
}

/** What is drawn after a day; nothing of a course that is over by then. */
function drawnAfter(drawing: DrawPlan, after: string): DrawPlan[] {
  if (after < drawing.first) return [drawing];
  if (drawing.last <= after) return [];
  const before = drawing.unitsBy(after);
  const unitsBy = (day: string) => drawing.unitsBy(day).map((units, more) => units - (before[more] ?? 0));
  return [{ ...drawing, unitsBy }];
}
