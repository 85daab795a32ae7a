import fc from 'fast-check';
import { beforeAll, expect, test } from 'vitest';
import { inTransaction, type Transaction } from '../../../src/database/transaction.js';
import { Problem } from '../../../src/problems.js';
import { bookingTasks } from '../../../src/studio/bookings/jobs.js';
import { bookPlaces, cancelBooking, getBooking, payForBookings } from '../../../src/studio/bookings/service.js';
import { acceptOffer } from '../../../src/studio/bookings/waiting-list/acceptance.js';
import { addToWaitingList } from '../../../src/studio/bookings/waiting-list/entries.js';
import { offerPlaces, removeFromWaitingList } from '../../../src/studio/bookings/waiting-list/offers.js';
import { testApp } from '../../support/app.js';
import { manyPeople } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

const { db, owner } = await testApp();
const PLACES = 3;
const HOUR = 3_600_000;
const HOLD = 48 * HOUR;
const BEGINS = Date.parse('2026-04-14T18:00:00Z');
let home: Awaited<ReturnType<typeof coursesFixture>>;
let people: string[];
beforeAll(async () => {
  home = await coursesFixture(owner);
  people = await manyPeople(db, 9);
});

type Booked = { id: string; who: number[]; heldUntil: number; paid: boolean; over: boolean };
type Waits = { id: string; who: number; places: number; until: number | null; ended: string | null };
/** A course as somebody keeps it on paper: who has a place, and who waits in which order. */
type Paper = { time: number; booked: Booked[]; waits: Waits[] };

const which = fc.nat(7);
const step = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      do: fc.constant('book' as const),
      who: fc.uniqueArray(fc.nat(8), { minLength: 1, maxLength: 2 }),
    }),
  },
  { weight: 3, arbitrary: fc.record({ do: fc.constant('pay' as const), which }) },
  { weight: 3, arbitrary: fc.record({ do: fc.constant('cancel' as const), which }) },
  { weight: 3, arbitrary: fc.record({ do: fc.constant('cancelOne' as const), which }) },
  {
    weight: 6,
    arbitrary: fc.record({ do: fc.constant('wait' as const), who: fc.nat(8), places: fc.integer({ min: 1, max: 2 }) }),
  },
  { weight: 4, arbitrary: fc.record({ do: fc.constant('offer' as const) }) },
  { weight: 4, arbitrary: fc.record({ do: fc.constant('accept' as const), which }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('remove' as const), which }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('later' as const), hours: fc.constantFrom(12, 24, 48) }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('jobs' as const) }) },
);
type Step = typeof step extends fc.Arbitrary<infer S> ? S : never;

const holdEnd = (time: number) => Math.min(time + HOLD, BEGINS);
const comes = ({ booked }: Paper, who: number) => booked.some((b) => !b.over && b.who.includes(who));
const open = ({ waits }: Paper) => waits.filter(({ ended }) => ended === null);
const isFree = ({ until }: Waits) => until === null;
const free = (paper: Paper, but: readonly number[] = []) =>
  PLACES -
  paper.booked.reduce((sum, b) => sum + (b.over ? 0 : b.who.length), 0) -
  open(paper).reduce((sum, w) => sum + (isFree(w) || but.includes(w.who) ? 0 : w.places), 0);

function releaseHolds(paper: Paper): void {
  for (const b of paper.booked) b.over ||= !b.paid && b.heldUntil <= paper.time;
}
function offerNext(paper: Paper): boolean {
  const next = open(paper).find((w) => isFree(w) && w.places <= free(paper));
  if (next) next.until = holdEnd(paper.time);
  return next !== undefined;
}
function lapse(paper: Paper): void {
  const late = open(paper).filter(({ until }) => until !== null && until <= paper.time);
  for (const w of late) w.ended = 'lapsed';
  if (late.length > 0) while (offerNext(paper));
}

/** Does a step on paper. @returns why it is refused, in which case nothing of it counts */
function onPaper(paper: Paper, next: Step): string | undefined {
  if (next.do === 'later') paper.time += paper.time + next.hours * HOUR < BEGINS ? next.hours * HOUR : 0;
  if (next.do === 'jobs') {
    releaseHolds(paper);
    lapse(paper);
  }
  if (next.do === 'book') return book(paper, next.who);
  if (next.do === 'wait') {
    releaseHolds(paper);
    if (comes(paper, next.who)) return 'already-there';
    if (open(paper).some(({ who }) => who === next.who)) return 'already-waiting';
    const left = free(paper);
    if (next.places <= left && !open(paper).some((w) => isFree(w) && w.places <= left)) return 'places-left';
    paper.waits.push({ id: '', who: next.who, places: next.places, until: null, ended: null });
  }
  if (next.do === 'offer') {
    releaseHolds(paper);
    lapse(paper);
    if (!offerNext(paper)) return open(paper).some(isFree) ? 'course-full' : 'nobody-waits';
  }
  if (next.do === 'cancel' || next.do === 'cancelOne' || next.do === 'pay') return ofBooking(paper, next);
  if (next.do === 'accept' || next.do === 'remove') {
    const w = paper.waits[next.which];
    if (!w) return undefined;
    if (w.ended !== null) return 'no-offer';
    const { until } = w;
    if (next.do === 'accept' && (until === null || until <= paper.time)) return 'no-offer';
    w.ended = next.do === 'accept' ? 'booked' : until === null ? 'removed' : 'declined';
    if (next.do === 'accept') return book(paper, [w.who]);
    if (until !== null) offerNext(paper);
  }
  return undefined;
}

function book(paper: Paper, who: number[]): string | undefined {
  releaseHolds(paper);
  lapse(paper);
  if (who.some((one) => comes(paper, one))) return 'already-there';
  if (who.length > free(paper, who)) return 'course-full';
  for (const w of open(paper)) if (who.includes(w.who)) w.ended = 'booked';
  paper.booked.push({ id: '', who, heldUntil: holdEnd(paper.time), paid: false, over: false });
  return undefined;
}

function ofBooking(paper: Paper, next: { do: 'cancel' | 'cancelOne' | 'pay'; which: number }): string | undefined {
  const b = paper.booked[next.which];
  if (!b || (next.do === 'pay' && b.paid)) return undefined;
  if (b.over) return next.do === 'pay' ? 'nothing-owed' : 'already-cancelled';
  if (next.do === 'pay') b.paid = true;
  else if (next.do === 'cancel' || b.who.length === 1) b.over = true;
  else b.who = b.who.slice(0, 1);
  return undefined;
}

/** Does it for real. */
async function forReal(tx: Transaction, courseId: string, paper: Paper, next: Step): Promise<string | undefined> {
  const now = new Date(paper.time);
  const person = (i: number) => people[i] ?? '';
  const booking = 'which' in next ? paper.booked[next.which] : undefined;
  const entry = 'which' in next ? paper.waits[next.which] : undefined;
  const bookingOf = (who: number[]) => ({ payerId: person(who[0] ?? 0), attendeeIds: who.map(person) });
  if (next.do === 'book') return (await bookPlaces(tx, now, courseId, bookingOf(next.who))).id;
  if (next.do === 'wait') {
    const wanted = { personId: person(next.who), places: next.places, note: null };
    return (await addToWaitingList(tx, now, courseId, wanted)).id;
  }
  if (next.do === 'offer') await offerPlaces(tx, now, courseId, {});
  if (next.do === 'accept' && entry) return (await acceptOffer(tx, now, entry.id, bookingOf([entry.who]))).booking.id;
  if (next.do === 'remove' && entry) await removeFromWaitingList(tx, now, entry.id);
  if (!booking) return undefined;
  const { payerId, chargeId, depositMinor, attendees } = await getBooking(tx, booking.id);
  if (next.do === 'pay' && !booking.paid) {
    const amountMinor = Math.max(1, depositMinor);
    await payForBookings(tx, now, { personId: payerId, method: 'cash', for: [{ chargeId, amountMinor }] });
  }
  if (next.do === 'cancel') await cancelBooking(tx, now, booking.id, { reason: 'Ill', method: 'cash' });
  if (next.do === 'cancelOne') {
    const last = booking.who.at(-1) ?? 0;
    const attendeeIds = attendees.length === 1 ? [attendees[0]?.personId ?? ''] : [person(last)];
    await cancelBooking(tx, now, booking.id, { reason: 'Ill', method: 'cash', attendeeIds });
  }
  return undefined;
}

async function outcomeOf(courseId: string, paper: Paper, next: Step): Promise<{ id?: string; refused?: string }> {
  if (next.do === 'jobs') {
    const jobs = bookingTasks(db, () => new Date(paper.time));
    await jobs['release-holds']();
    await jobs['lapse-offers']();
    return {};
  }
  try {
    const id = await inTransaction(db, (tx) => forReal(tx, courseId, paper, next));
    return id === undefined ? {} : { id };
  } catch (error) {
    if (error instanceof Problem) return { refused: error.type };
    throw error;
  }
}

async function asKept(courseId: string) {
  const entries = await db.waitingEntry.findMany({ where: { courseId }, orderBy: { id: 'asc' } });
  const places = await db.place.count({ where: { booking: { courseId, cancelledAt: null } } });
  return { places, waits: entries.map((e) => [e.id, e.offeredUntil?.getTime() ?? null, e.ended]) };
}

test('whatever people book, pay, cancel, wait for, are offered and accept, it is what somebody would keep on paper', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 25, maxLength: 40 }), async (steps) => {
      const { id: courseId } = await home.addCourse({ places: PLACES, minimum: 1, holdHours: 48 });
      let paper: Paper = { time: Date.parse('2026-03-16T09:00:00Z'), booked: [], waits: [] };
      for (const next of steps) {
        const after = structuredClone(paper);
        const refused = onPaper(after, next);
        const done = await outcomeOf(courseId, paper, next);
        expect([next.do, done.refused]).toEqual([next.do, refused]);
        if (refused !== undefined) continue;
        for (const made of [...after.booked, ...after.waits]) if (made.id === '') made.id = done.id ?? '';
        paper = after;
        expect(free(paper)).toBeGreaterThanOrEqual(0);
        const places = paper.booked.reduce((sum, b) => sum + (b.over ? 0 : b.who.length), 0);
        expect(await asKept(courseId)).toEqual({
          places,
          waits: paper.waits.map(({ id, until, ended }) => [id, until, ended]),
        });
      }
    }),
    { numRuns: 60 },
  );
});
