import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { bookingTasks } from '../../../src/studio/bookings/jobs.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import type { EnrolmentOutlook } from '../../../src/studio/enrolment-outlook/contract.js';
import { finalEnrolment } from '../../../src/trade/pricing/booking-pace.js';
import { betaBinomial } from '../../../src/trade/pricing/enrolment.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made, personFixture } from '../../support/fixtures.js';

const { db, owner, tutor, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

const outlook = async (): Promise<EnrolmentOutlook> => (await owner.get('/api/enrolment-outlook')).json();
const courseOf = async (id: string) => (await outlook()).courses.find(({ courseId }) => courseId === id);
const decide = (id: string, decideOn: string | null, minimum = 4) =>
  owner.put(`/api/courses/${id}/particulars`, { title: 'Two mugs', places: 8, minimum, decideOn, note: null });

describe('how a course fills', () => {
  test('counts what is paid, held, offered and left', async () => {
    const { id } = await home.addCourse();
    const paid = await bookingFixture(owner, id, 2);
    await payFor(owner, paid, paid.depositMinor);
    await bookingFixture(owner, id, 3);
    expect(await courseOf(id)).toMatchObject({
      ...{ places: 8, minimum: 4, confirmed: 2, held: 3, offered: 0, left: 3, waiting: 0 },
      expected: { minimumChance: '1.00', minimumOn: null }, // five have it already
    });
    await bookingFixture(owner, id, 3);
    const { id: personId } = await personFixture(owner);
    await made(owner, `/api/courses/${id}/waiting-list`, { personId, places: 2 });
    expect(await courseOf(id)).toMatchObject({ held: 6, left: 0, waiting: 2 });
  });

  test('expects by the price’s own distribution, what is booked and how early people book', async () => {
    const { id } = await home.addCourse();
    await bookingFixture(owner, id, 2);
    const { enrolmentAlpha, enrolmentBeta } = (await owner.get('/api/studio')).json();
    const prior = betaBinomial(8, enrolmentAlpha, enrolmentBeta).map((chance) => chance.toNumber());
    const meanAt = (days: number) =>
      finalEnrolment(prior, 2, 0.5 ** (days / 21))
        .reduce((sum, chance, n) => sum + n * chance, 0)
        .toFixed(1);
    const early = (await courseOf(id))?.expected;
    expect(early).toMatchObject({ mean: meanAt(35), isAssumption: true }); // from 10 March to 14 April
    await clock.set('2026-04-13T09:00:00Z');
    const late = (await courseOf(id))?.expected;
    expect(late?.mean).toBe(meanAt(1));
    expect(Number(late?.mean)).toBeLessThan(Number(early?.mean));
    expect(Number(late?.minimumChance)).toBeLessThan(Number(early?.minimumChance));
  });

  test('is decided a week before it begins, or on the day that the owner gave', async () => {
    const { id } = await home.addCourse();
    await bookingFixture(owner, id, 3);
    const usual = await courseOf(id);
    expect(usual).toMatchObject({ decideOn: '2026-04-07', decideOnIsSet: false });
    expect(usual?.expected?.minimumOn).toMatch(/^2026-03-/); // one more is soon there
    await decide(id, '2026-03-12');
    const sooner = await courseOf(id);
    expect(sooner).toMatchObject({ decideOn: '2026-03-12', decideOnIsSet: true });
    expect(Number(sooner?.expected?.minimumChance)).toBeLessThan(Number(usual?.expected?.minimumChance));
    await decide(id, null);
    await clock.set('2026-04-10T09:00:00Z');
    expect(await courseOf(id)).toMatchObject({ decideOn: '2026-04-10' }); // the week is past: today
  });

  test('learns from past courses how early people book', async () => {
    const begun = await home.addCourse();
    await bookingFixture(owner, begun.id, 8); // all of them five weeks before
    const next = await home.addCourse({ sessions: later(begun.sessions, 35) });
    await bookingFixture(owner, next.id, 3);
    const before = (await courseOf(next.id))?.expected;
    await clock.set('2026-04-14T18:00:00Z');
    const after = (await courseOf(next.id))?.expected;
    expect(Number(before?.mean)).toBeGreaterThan(3.5);
    expect(Number(after?.mean)).toBeLessThan(Number(before?.mean)); // who was to book has done so by now
    expect(await courseOf(begun.id)).toBeUndefined();
  });

  test('a private session is booked by one group or nobody: nothing is expected of it', async () => {
    const plan = await made<Plan>(owner, '/api/course-plans', { ...planBody(home), kind: 'private', groupOf: 2 });
    const { id } = await home.addCourse({ planId: plan.id, perHeadAboveMinor: 3000 });
    expect(await courseOf(id)).toMatchObject({ kind: 'private', left: 8, expected: null });
  });
});

describe('whom to ring', () => {
  test('whose hold runs out within a week, the first first', async () => {
    const { id } = await home.addCourse();
    const booking = await bookingFixture(owner, id);
    const mine = (await outlook()).holds.filter(({ courseId }) => courseId === id);
    expect(mine).toMatchObject([{ bookingId: booking.id, personId: booking.payerId, places: 1 }]);
    expect(mine[0]?.heldUntil).toBe(booking.heldUntil);
    await payFor(owner, booking, booking.depositMinor);
    expect((await outlook()).holds.filter(({ courseId }) => courseId === id)).toEqual([]);
  });

  test('who let a hold run out, until they book again; who waits for another course like it', async () => {
    const { id: planId } = await made<Plan>(owner, '/api/course-plans', planBody(home));
    const open = await home.addCourse({ planId });
    const full = await home.addCourse({ planId, places: 1, minimum: 1, sessions: later(open.sessions, 28) });
    const lapsed = await bookingFixture(owner, open.id);
    await bookingFixture(owner, full.id);
    const waits = await personFixture(owner);
    await made(owner, `/api/courses/${full.id}/waiting-list`, { personId: waits.id });
    const calls = async () => (await outlook()).calls.filter(({ courseId }) => courseId === open.id);
    expect(await calls()).toMatchObject([{ personId: waits.id, because: 'waitsElsewhere', places: 1 }]);
    await clock.set('2026-03-20T09:00:00Z');
    await bookingTasks(db, clock.now)['release-holds']();
    expect((await calls()).map(({ personId, because }) => [personId, because])).toEqual([
      [waits.id, 'waitsElsewhere'],
      [lapsed.payerId, 'holdEnded'],
    ]);
    for (const personId of [waits.id, lapsed.payerId])
      await made(owner, `/api/courses/${open.id}/bookings`, { payerId: personId, attendeeIds: [personId] });
    expect(await calls()).toEqual([]);
  });
});

test('money and people are not a tutor’s to see', async () => {
  expect((await tutor.get('/api/enrolment-outlook')).statusCode).toBe(403);
});

const later = (sessions: readonly { startsAt: string; endsAt: string }[], days: number) =>
  home.body.sessions.map((session: object, i: number) => ({
    ...session,
    startsAt: moved(sessions[i]?.startsAt ?? '', days),
    endsAt: moved(sessions[i]?.endsAt ?? '', days),
  }));
const moved = (instant: string, days: number) => new Date(Date.parse(instant) + days * 86_400_000).toISOString();
