import fc from 'fast-check';

// Two courses as somebody keeps them on paper: who has a place, who waits in which order, who makes a session up in the other.

export const PLACES = 2;
export const HOLD_HOURS = 48;
const HOUR = 3_600_000;
/** When each begins: two sessions each, of the same purposes, and no step goes so far. */
export const BEGINS = [Date.parse('2026-04-14T18:00:00Z'), Date.parse('2026-04-21T18:00:00Z')] as const;

export type On = 0 | 1;
export type Booked = { id: string; on: On; who: number[]; heldUntil: number; paid: boolean; over: boolean };
export type Waits = { id: string; on: On; who: number; places: number; until: number | null; ended: string | null };
/** Somebody of a booking comes to a session of the other course, `there`, for the same one of their own. */
export type MadeUp = { id: string; booking: number; who: number; there: On; session: number; over: boolean };
export type Paper = { time: number; booked: Booked[]; waits: Waits[]; madeUp: MadeUp[] };

export const EMPTY: Paper = { time: Date.parse('2026-03-16T09:00:00Z'), booked: [], waits: [], madeUp: [] };

const which = fc.nat(29);
const on = fc.constantFrom<On>(0, 1);
const doing = <D extends string, R extends object>(
  weight: number,
  it: D,
  of: { [K in keyof R]: fc.Arbitrary<R[K]> },
) => ({
  weight,
  arbitrary: fc.record<R>(of).map((rest) => ({ do: it, ...rest })),
});
/** What may happen next; `chosen` says whom `which` means. */
export const step = fc.oneof(
  doing(7, 'book', { on, who: fc.uniqueArray(fc.nat(8), { minLength: 1, maxLength: 2 }) }),
  doing(4, 'pay', { which }),
  doing(4, 'cancel', { which }),
  doing(3, 'cancelOne', { which }),
  doing(4, 'move', { which }),
  doing(9, 'wait', { on, who: fc.nat(8), places: fc.integer({ min: 1, max: 2 }) }),
  doing(10, 'offer', { on }),
  doing(9, 'accept', { which }),
  doing(1, 'remove', { which }),
  doing(6, 'makeUp', { which, one: fc.nat(1), session: fc.nat(1) }),
  doing(2, 'takeOff', { which }),
  doing(2, 'later', { hours: fc.constantFrom(12, 24, 48) }),
  doing(2, 'jobs', {}),
);
export type Step = typeof step extends fc.Arbitrary<infer S> ? S : never;

/** Of those that are still open, the one that a number falls on; one time in three of all that there ever were. */
function chosen<T>(list: readonly T[], number: number, isOpen: (one: T) => boolean): T | undefined {
  const open = number % 3 === 0 ? list : list.filter(isOpen);
  return open[Math.floor(number / 3) % open.length];
}
export const chosenBooking = ({ booked }: Paper, number: number) => chosen(booked, number, ({ over }) => !over);
export const chosenWait = ({ waits }: Paper, number: number) => chosen(waits, number, ({ ended }) => ended === null);
export const chosenMakeUp = ({ madeUp }: Paper, number: number) => chosen(madeUp, number, ({ over }) => !over);

const holdEnd = (time: number, course: On) => Math.min(time + HOLD_HOURS * HOUR, BEGINS[course]);
const isFree = ({ until }: Waits) => until === null;
const open = ({ waits }: Paper, course: On) => waits.filter(({ on, ended }) => on === course && ended === null);
const placesOn = ({ booked }: Paper, course: On) =>
  booked.reduce((sum, b) => sum + (b.on === course && !b.over ? b.who.length : 0), 0);
const comes = ({ booked }: Paper, who: number, course: On) =>
  booked.some((b) => b.on === course && !b.over && b.who.includes(who));
const makesUp = ({ madeUp }: Paper, who: number, course: On) =>
  madeUp.some((m) => m.there === course && m.who === who && !m.over);
const madeUpIn = ({ madeUp }: Paper, course: On, session: number) =>
  madeUp.filter((m) => m.there === course && m.session === session && !m.over).length;
const notTaken = (paper: Paper, course: On, but: readonly number[] = []) =>
  PLACES -
  placesOn(paper, course) -
  open(paper, course).reduce((sum, w) => sum + (isFree(w) || but.includes(w.who) ? 0 : w.places), 0);
/** What can still be sold: places that are taken in no session. */
export const free = (paper: Paper, course: On, but: readonly number[] = []) =>
  notTaken(paper, course, but) - Math.max(madeUpIn(paper, course, 0), madeUpIn(paper, course, 1));

/** Who has no place any more makes nothing up. */
function end(paper: Paper, b: Booked): void {
  b.over = true;
  for (const m of paper.madeUp) if (paper.booked[m.booking] === b) m.over = true;
}
function releaseHolds(paper: Paper, course: On): void {
  for (const b of paper.booked) if (b.on === course && !b.over && !b.paid && b.heldUntil <= paper.time) end(paper, b);
}
function offerNext(paper: Paper, course: On): boolean {
  const next = open(paper, course).find((w) => isFree(w) && w.places <= free(paper, course));
  if (next) next.until = holdEnd(paper.time, course);
  return next !== undefined;
}
function lapse(paper: Paper, course: On): void {
  const late = open(paper, course).filter(({ until }) => until !== null && until <= paper.time);
  for (const w of late) w.ended = 'lapsed';
  if (late.length > 0) while (offerNext(paper, course));
}

/** Does a step on paper. @returns why it is refused, in which case nothing of it counts */
export function onPaper(paper: Paper, next: Step): string | undefined {
  switch (next.do) {
    case 'later':
      paper.time += paper.time + next.hours * HOUR < BEGINS[0] ? next.hours * HOUR : 0;
      return undefined;
    case 'jobs':
      for (const course of [0, 1] as const) releaseHolds(paper, course);
      for (const course of [0, 1] as const) lapse(paper, course);
      return undefined;
    case 'book':
      return book(paper, next.on, next.who);
    case 'wait':
      return wait(paper, next);
    case 'offer':
      releaseHolds(paper, next.on);
      lapse(paper, next.on);
      if (offerNext(paper, next.on)) return undefined;
      return open(paper, next.on).some(isFree) ? 'course-full' : 'nobody-waits';
    case 'accept':
    case 'remove':
      return ofWaits(paper, next);
    case 'takeOff':
      return takeOff(paper, next.which);
    default:
      return ofBooking(paper, next);
  }
}

function book(paper: Paper, course: On, who: number[], paid = false): string | undefined {
  releaseHolds(paper, course);
  lapse(paper, course);
  if (who.some((one) => makesUp(paper, one, course) || comes(paper, one, course))) return 'already-there';
  if (who.length > free(paper, course, who)) return 'course-full';
  for (const w of open(paper, course)) if (who.includes(w.who)) w.ended = 'booked';
  paper.booked.push({ id: '', on: course, who, heldUntil: holdEnd(paper.time, course), paid, over: false });
  return undefined;
}

function wait(paper: Paper, { on: course, who, places }: Extract<Step, { do: 'wait' }>): string | undefined {
  releaseHolds(paper, course);
  if (comes(paper, who, course)) return 'already-there';
  if (open(paper, course).some((w) => w.who === who)) return 'already-waiting';
  const left = free(paper, course);
  if (places <= left && !open(paper, course).some((w) => isFree(w) && w.places <= left)) return 'places-left';
  paper.waits.push({ id: '', on: course, who, places, until: null, ended: null });
  return undefined;
}

function ofWaits(paper: Paper, next: Extract<Step, { do: 'accept' | 'remove' }>): string | undefined {
  const w = chosenWait(paper, next.which);
  if (!w) return undefined;
  if (w.ended !== null) return 'no-offer';
  const { until } = w;
  if (next.do === 'accept' && (until === null || until <= paper.time)) return 'no-offer';
  w.ended = next.do === 'accept' ? 'booked' : until === null ? 'removed' : 'declined';
  if (next.do === 'accept') return book(paper, w.on, [w.who]);
  if (until !== null) offerNext(paper, w.on);
  return undefined;
}

function ofBooking(
  paper: Paper,
  next: Extract<Step, { do: 'cancel' | 'cancelOne' | 'pay' | 'move' | 'makeUp' }>,
): string | undefined {
  const b = chosenBooking(paper, next.which);
  if (!b || (next.do === 'pay' && b.paid)) return undefined;
  if (b.over) return next.do === 'pay' ? 'nothing-owed' : 'already-cancelled';
  const other = b.on === 0 ? 1 : 0;
  if (next.do === 'pay') b.paid = true;
  if (next.do === 'cancel' || (next.do === 'cancelOne' && b.who.length === 1)) end(paper, b);
  else if (next.do === 'cancelOne') {
    const [, gone] = b.who;
    b.who = b.who.slice(0, 1);
    for (const m of paper.madeUp) if (paper.booked[m.booking] === b && m.who === gone) m.over = true;
  }
  if (next.do === 'move') {
    const refused = book(paper, other, b.who, b.paid);
    if (refused === undefined) end(paper, b);
    return refused;
  }
  if (next.do === 'makeUp') {
    const who = b.who[next.one % b.who.length] ?? 0;
    releaseHolds(paper, other);
    if (comes(paper, who, other)) return 'already-there';
    if (paper.madeUp.some((m) => m.there === other && m.who === who && m.session === next.session && !m.over))
      return 'already-there';
    if (notTaken(paper, other) - madeUpIn(paper, other, next.session) < 1) return 'course-full';
    paper.madeUp.push({
      id: '',
      booking: paper.booked.indexOf(b),
      who,
      there: other,
      session: next.session,
      over: false,
    });
  }
  return undefined;
}

function takeOff(paper: Paper, which: number): string | undefined {
  const m = chosenMakeUp(paper, which);
  if (!m) return undefined;
  if (m.over) return 'already-cancelled';
  m.over = true;
  return undefined;
}
