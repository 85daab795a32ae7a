import fc from 'fast-check';
import { beforeAll, expect, test } from 'vitest';
import { inTransaction, type Transaction } from '../../../src/database/transaction.js';
import { Problem } from '../../../src/problems.js';
import { bookingTasks } from '../../../src/studio/bookings/jobs.js';
import { addMakeUp, removeMakeUp } from '../../../src/studio/bookings/make-ups/service.js';
import { moveBooking } from '../../../src/studio/bookings/move-booking.js';
import { bookPlaces, cancelBooking, getBooking, payForBookings } from '../../../src/studio/bookings/service.js';
import { acceptOffer } from '../../../src/studio/bookings/waiting-list/acceptance.js';
import { addToWaitingList } from '../../../src/studio/bookings/waiting-list/entries.js';
import { offerPlaces, removeFromWaitingList } from '../../../src/studio/bookings/waiting-list/offers.js';
import type { Course } from '../../../src/studio/courses/contract.js';
import { testApp } from '../../support/app.js';
import {
  BEGINS,
  type Booked,
  chosenBooking,
  chosenMakeUp,
  chosenWait,
  EMPTY,
  free,
  HOLD_HOURS,
  type On,
  onPaper,
  type Paper,
  PLACES,
  type Step,
  step,
} from '../../support/courses-on-paper.js';
import { manyPeople } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

// MODEL_STEPS=50000 npx vitest run --project integration tests/studio/bookings/courses-model.test.ts
const STEPS = Number(process.env.MODEL_STEPS ?? 2000);
const [STEPS_MIN, STEPS_MAX] = [40, 60];
const HANGS_AFTER_MILLISECONDS = 600_000 + STEPS * 200;

const { db, owner, ownerMember } = await testApp();
const member = { staffMemberId: ownerMember.id };
let home: Awaited<ReturnType<typeof coursesFixture>>;
let people: string[];
let roomIds: string[];
beforeAll(async () => {
  home = await coursesFixture(owner);
  people = await manyPeople(db, 9);
  const room = async (name: string) => (await made<{ id: string }>(owner, '/api/rooms', { name, benches: 200 })).id;
  roomIds = [await room('First room'), await room('Second room')];
});

type Courses = readonly [Course, Course];

/** Two courses of one plan, a week apart, in rooms that are never full: what is counted is their places. */
async function addCourses(): Promise<Courses> {
  const at = (from: number, roomId: string | undefined) => ({
    ...{ startsAt: new Date(from).toISOString(), endsAt: new Date(from + 7_200_000).toISOString(), roomId },
    benches: 1,
  });
  const add = (course: On) => {
    const first = BEGINS[course];
    const sessions = [at(first, roomIds[course]), at(first + 21 * 86_400_000, roomIds[course])];
    return home.addCourse({ places: PLACES, minimum: 1, holdHours: HOLD_HOURS, sessions });
  };
  return [await add(0), await add(1)];
}

const person = (i: number) => people[i] ?? '';
const bookingOf = (who: number[]) => ({ payerId: person(who[0] ?? 0), attendeeIds: who.map(person) });

/** Does a step for real. @returns the id of what it made */
async function forReal(
  tx: Transaction,
  courses: Courses,
  paper: Paper,
  next: Exclude<Step, { do: 'later' | 'jobs' }>,
): Promise<string | undefined> {
  const now = new Date(paper.time);
  if (next.do === 'book') return (await bookPlaces(tx, now, courses[next.on].id, bookingOf(next.who))).id;
  if (next.do === 'wait') {
    const wanted = { personId: person(next.who), places: next.places, note: null };
    return (await addToWaitingList(tx, now, courses[next.on].id, wanted)).id;
  }
  if (next.do === 'offer') {
    await offerPlaces(tx, now, courses[next.on].id, {});
    return undefined;
  }
  if (next.do === 'takeOff') {
    const made = chosenMakeUp(paper, next.which);
    if (made) await removeMakeUp(tx, now, member, made.id);
    return undefined;
  }
  if (next.do === 'accept' || next.do === 'remove') {
    const entry = chosenWait(paper, next.which);
    if (entry && next.do === 'accept') return (await acceptOffer(tx, now, entry.id, bookingOf([entry.who]))).booking.id;
    if (entry) await removeFromWaitingList(tx, now, entry.id);
    return undefined;
  }
  const booking = chosenBooking(paper, next.which);
  return booking && ofBooking(tx, now, courses, booking, next);
}

async function ofBooking(
  tx: Transaction,
  now: Date,
  courses: Courses,
  { id, on, who, paid }: Booked,
  next: Extract<Step, { do: 'cancel' | 'cancelOne' | 'pay' | 'move' | 'makeUp' }>,
): Promise<string | undefined> {
  const there = courses[on === 0 ? 1 : 0];
  if (next.do === 'pay' && !paid) {
    const { payerId, chargeId, depositMinor } = await getBooking(tx, id);
    const amountMinor = Math.max(1, depositMinor);
    await payForBookings(tx, now, { personId: payerId, method: 'cash', for: [{ chargeId, amountMinor }] });
  }
  if (next.do === 'cancel') await cancelBooking(tx, now, id, { reason: 'Ill', method: 'cash' });
  if (next.do === 'cancelOne') {
    const attendeeIds = [person(who.at(-1) ?? 0)];
    await cancelBooking(tx, now, id, { reason: 'Ill', method: 'cash', attendeeIds });
  }
  if (next.do === 'move')
    return (await moveBooking(tx, now, member, id, { courseId: there.id, method: 'cash' })).booking.id;
  if (next.do === 'makeUp') {
    const session = (course: Course) => course.sessions[next.session]?.id ?? '';
    const personId = person(who[next.one % who.length] ?? 0);
    const wanted = { personId, missedSessionId: session(courses[on]), sessionId: session(there) };
    return (await addMakeUp(tx, now, member, id, wanted)).id;
  }
  return undefined;
}

async function outcomeOf(courses: Courses, paper: Paper, next: Step): Promise<{ id?: string; refused?: string }> {
  if (next.do === 'later') return {};
  if (next.do === 'jobs') {
    const jobs = bookingTasks(db, () => new Date(paper.time));
    await jobs['release-holds']();
    await jobs['lapse-offers']();
    return {};
  }
  try {
    const id = await inTransaction(db, (tx) => forReal(tx, courses, paper, next));
    return id === undefined ? {} : { id };
  } catch (error) {
    if (error instanceof Problem) return { refused: error.type };
    throw error;
  }
}

/** What stands in the database of both courses, in the order in which it came. */
async function asKept(courses: Courses) {
  const of = { courseId: { in: courses.map(({ id }) => id) } };
  const entries = await db.waitingEntry.findMany({ where: of, orderBy: { id: 'asc' } });
  const makeUps = await db.makeUp.findMany({ where: { booking: of }, orderBy: { id: 'asc' } });
  const placesOn = ({ id: courseId }: Course) =>
    db.place.count({ where: { booking: { courseId, cancelledAt: null } } });
  return {
    places: [await placesOn(courses[0]), await placesOn(courses[1])],
    waits: entries.map((e) => [e.id, e.offeredUntil?.getTime() ?? null, e.ended]),
    makeUps: makeUps.map((m) => [m.id, m.endedAt !== null]),
  };
}

const asOnPaper = ({ booked, waits, madeUp }: Paper) => ({
  places: ([0, 1] as const).map((on) =>
    booked.reduce((sum, b) => sum + (b.on === on && !b.over ? b.who.length : 0), 0),
  ),
  waits: waits.map(({ id, until, ended }) => [id, until, ended]),
  makeUps: madeUp.map(({ id, over }) => [id, over]),
});

test(
  'whatever people book, pay, cancel, move, wait for, are offered, accept and make up, it is what somebody would keep on paper',
  async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: STEPS_MIN, maxLength: STEPS_MAX }), async (steps) => {
        const courses = await addCourses();
        let paper = EMPTY;
        for (const next of steps) {
          const after = structuredClone(paper);
          const refused = onPaper(after, next);
          const done = await outcomeOf(courses, paper, next);
          expect([next.do, done.refused]).toEqual([next.do, refused]);
          if (refused !== undefined) continue;
          for (const made of [...after.booked, ...after.waits, ...after.madeUp])
            if (made.id === '') made.id = done.id ?? '';
          paper = after;
          expect(Math.min(free(paper, 0), free(paper, 1))).toBeGreaterThanOrEqual(0);
          expect(await asKept(courses)).toEqual(asOnPaper(paper));
        }
      }),
      { numRuns: Math.ceil((2 * STEPS) / (STEPS_MIN + STEPS_MAX)) },
    );
  },
  HANGS_AFTER_MILLISECONDS,
);
