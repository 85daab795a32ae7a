import { beforeAll, describe, expect, test } from 'vitest';
import { inTransaction } from '../../../src/database/transaction.js';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { listPastCourses, noteEnrolments } from '../../../src/studio/pricing/queries.js';
import { betaBinomial, expectedCount } from '../../../src/trade/pricing/enrolment.js';
import { fitEnrolment } from '../../../src/trade/pricing/enrolment-fit.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made, STUDIO } from '../../support/fixtures.js';

const { db, owner, clock } = await testApp();
const SETTING = { alpha: STUDIO.enrolmentAlpha, beta: STUDIO.enrolmentBeta };
let home: Awaited<ReturnType<typeof coursesFixture>>;
let priced: { id: string };
let other: Plan;

/** A course on two evenings from a day in April on, three weeks apart. */
const courseOn = (day: number, changes: object = {}) => {
  const evening = (month: number, date: number) => ({
    startsAt: new Date(Date.UTC(2026, month, date, 18)).toISOString(),
    endsAt: new Date(Date.UTC(2026, month, date, 20)).toISOString(),
    roomId: home.room.id,
    benches: 1,
  });
  return made(owner, '/api/courses', { ...home.body, sessions: [evening(3, day), evening(3, day + 21)], ...changes });
};
const cancel = async ({ id }: Booking, day: string) => {
  await clock.set(`${day}T12:00:00Z`);
  expect((await owner.post(`/api/bookings/${id}/cancellation`, { reason: 'Too few', refundMinor: 0 })).statusCode).toBe(
    201,
  );
};
const enrolmentOf = async (courseId: string) =>
  (await owner.get(`/api/courses/${courseId}/price`)).json().inputs.enrolment;
const past = async (day: string) =>
  (await listPastCourses(db, new Date(`${day}T12:00:00Z`))).flatMap(({ courses, ...alike }) =>
    Array.from({ length: courses }, () => alike),
  );

beforeAll(async () => {
  home = await coursesFixture(owner);
  other = await made<Plan>(owner, '/api/course-plans', planBody(home));
  for (const { id } of [home.clay, home.glaze])
    await made(owner, `/api/materials/${id}/lots`, {
      ...{ supplier: 'Ostlemere Clays', receivedOn: '2026-03-02', quantity: 100_000, costMinor: 9000 },
    });
  await made(owner, '/api/tariffs', {
    ...{ name: 'Day', validFrom: '2026-01-01', bands: [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }] },
  });
  priced = await courseOn(28);
});

describe('how many book', () => {
  test('is the setting, and called an assumption, before any course has begun', async () => {
    const enrolment = await enrolmentOf(priced.id);
    expect(enrolment).toMatchObject({ ...SETTING, source: { kind: 'assumption' } });
    expect(enrolment.source.detail).toContain("The studio's setting");
  });

  test('counts what was booked when a course began, whoever left it later', async () => {
    const { id } = await courseOn(1);
    await bookingFixture(owner, id, 3);
    const leaves = await bookingFixture(owner, id, 2);
    await cancel(await bookingFixture(owner, id, 1), '2026-03-11'); // long before: it isn't counted
    await bookingFixture(owner, (await courseOn(20)).id, 8); // not begun yet
    await cancel(leaves, '2026-04-02');
    expect(await past('2026-04-02')).toEqual([{ planId: home.plan.id, kind: 'course', places: 8, booked: 5 }]);
    expect(await past('2026-04-01')).toEqual([]);
  });

  test('counts a course that was called off with what it had on its last day', async () => {
    await clock.set('2026-03-12T09:00:00Z');
    const { id } = await courseOn(3, { planId: other.id, places: 6 });
    const early = await bookingFixture(owner, id, 1);
    const held = await bookingFixture(owner, id, 2);
    const paid = await bookingFixture(owner, id, 1);
    await payFor(owner, paid, 3000);
    const lapsed = await bookingFixture(owner, id, 2);
    await cancel(early, '2026-03-13');
    await db.booking.updateMany({ where: { id: held.id }, data: { depositMinor: 0 } });
    await cancel(held, '2026-03-29');
    await cancel(paid, '2026-03-29');
    await cancel(lapsed, '2026-03-29'); // its hold ran out unpaid
    await clock.set('2026-03-29T22:30:00Z'); // half past eleven, by the studio's clock
    expect((await past('2026-04-04'))[1]).toEqual({ planId: other.id, kind: 'course', places: 6, booked: 3 });
  });

  test('counts a course for which nobody came as empty', async () => {
    await courseOn(4, { planId: other.id });
    expect((await past('2026-04-05'))[2]).toEqual({ planId: other.id, kind: 'course', places: 8, booked: 0 });
  });

  test('is learnt, and the price says from what', async () => {
    await clock.set('2026-04-05T09:00:00Z');
    const own = [{ places: 8, booked: 5 }];
    const others = [
      { places: 6, booked: 3 },
      { places: 8, booked: 0 },
    ];
    const { alpha, beta, evidence } = fitEnrolment(own, others, SETTING);
    expect(evidence.settingPercent).toBe(50);
    const { source, ...learnt } = await enrolmentOf(priced.id);
    expect(learnt).toEqual({ alpha, beta });
    expect(source).toEqual({
      kind: 'history',
      detail: `Learnt from 1 past course of this plan and 2 others: ${evidence.fillPercent}% of places on average. The plan's own history counts 17%. It doesn't depend on the price.`,
    });
    expect(evidence.fillPercent).toBeLessThan(75);
  });

  test('is what the shelf is held against', async () => {
    await clock.set('2026-04-05T09:00:00Z');
    const { alpha, beta } = await enrolmentOf(priced.id);
    const { items } = (await owner.get('/api/outlook')).json();
    const clay = items.find(({ materialId }: { materialId: string }) => materialId === home.clay.id);
    const need = clay.needs.find(({ courseId }: { courseId: string }) => courseId === priced.id);
    const mugsGrams = 1139; // what a student draws, by the hand calculation in planning.test.ts
    expect(need.booked).toBe(0);
    expect(need.expected / mugsGrams).toBeCloseTo(expectedCount(betaBinomial(8, alpha, beta)).toNumber(), 1);
    expect(need.expected).toBeLessThan(5.5 * mugsGrams); // by the setting it would be six of eight
  });

  test('calls itself an assumption while the setting counts for more than half', async () => {
    await clock.set('2026-04-02T20:00:00Z');
    const { source, alpha } = await enrolmentOf(priced.id);
    expect(source.kind).toBe('assumption');
    expect(source.detail).toContain("Few courses yet (1 of this plan, 0 of others): the studio's setting counts 83%.");
    expect(alpha).not.toBe(SETTING.alpha);
  });

  test('prices a course that has begun without its own outcome, or that of a later one', async () => {
    const before = await enrolmentOf(priced.id);
    await clock.set('2026-05-30T09:00:00Z');
    const after = await enrolmentOf(priced.id);
    await bookingFixture(owner, (await courseOn(60)).id, 1);
    expect(after.alpha).not.toBe(before.alpha); // the course of 20 April counts by now
    await clock.set('2026-07-30T09:00:00Z');
    expect(await enrolmentOf(priced.id)).toEqual(after);
  });

  test('keeps the evidence with the price', async () => {
    const { id } = (await owner.post(`/api/courses/${priced.id}/price-quotes`)).json();
    const { inputs } = await db.priceQuote.findUniqueOrThrow({ where: { id } });
    expect(inputs).toMatchObject({ enrolment: { source: { kind: 'history' } } });
  });

  test('private sessions tell nothing, and open studio only of itself', async () => {
    await clock.set('2026-03-12T09:00:00Z');
    const open = await made<Plan>(owner, '/api/course-plans', {
      ...{ ...planBody(home), kind: 'openStudio', minimum: 0, firings: [], pieces: [] },
      sessions: [{ purpose: 'making', minutes: 120, prepareMinutes: 10, clearMinutes: 10 }],
    });
    const privately = await made<Plan>(owner, '/api/course-plans', { ...planBody(home), kind: 'private', groupOf: 4 });
    const visit = (day: number) => ({
      ...{ planId: open.id, minimum: 0 },
      sessions: [
        {
          startsAt: new Date(Date.UTC(2026, 3, day, 9)).toISOString(),
          endsAt: new Date(Date.UTC(2026, 3, day, 11)).toISOString(),
          ...{ roomId: home.room.id, benches: 1 },
        },
      ],
    });
    const before = await past('2026-04-06');
    const group = await courseOn(2, { planId: privately.id, perHeadAboveMinor: 1000 });
    await bookingFixture(owner, group.id, 8);
    await bookingFixture(owner, (await courseOn(2, visit(2))).id, 1);
    await courseOn(3, visit(3)); // nobody comes, and it is held all the same
    const coming = await courseOn(30, visit(30));
    await clock.set('2026-04-06T12:00:00Z');
    const after = await past('2026-04-06');
    expect(after).toHaveLength(before.length + 2);
    expect(after.filter(({ kind }) => kind === 'course')).toEqual(before);
    expect(after.filter(({ kind }) => kind === 'openStudio')).toEqual([
      { planId: open.id, kind: 'openStudio', places: 8, booked: 0 },
      { planId: open.id, kind: 'openStudio', places: 8, booked: 1 },
    ]);
    const { alpha, beta, source } = await enrolmentOf(coming.id);
    const own = [1, 0].map((booked) => ({ places: 8, booked }));
    expect({ alpha, beta }).toMatchObject(pick(fitEnrolment(own, [], SETTING)));
    expect(source.detail).toContain('2 past visits of this open studio alone');
    const [ofPlan, ofOthers] = [true, false].map((is) => before.filter((c) => (c.planId === home.plan.id) === is));
    expect(await enrolmentOf(priced.id)).toMatchObject(pick(fitEnrolment(ofPlan ?? [], ofOthers ?? [], SETTING)));
  });
});

describe('a noted enrolment', () => {
  const note = (day: string) => inTransaction(db, (tx) => noteEnrolments(tx, new Date(`${day}T12:00:00Z`)));
  const noted = async () => (await db.courseEnrolment.findMany({ select: { courseId: true } })).map((e) => e.courseId);

  test('says what is worked out without it, by any day', async () => {
    const days = ['2026-04-01', '2026-04-02', '2026-04-05', '2026-04-20', '2026-05-30', '2026-07-30'];
    const before = await Promise.all(days.map(past));
    expect(await note('2026-05-30')).toBeGreaterThan(4);
    expect(await note('2026-05-30')).toBe(0);
    expect(await Promise.all(days.map(past))).toEqual(before);
  });

  test('is taken away by whatever changes it, and that counts', async () => {
    await clock.set('2026-05-30T12:00:00Z');
    const { id } = await courseOn(70);
    const stays = await bookingFixture(owner, id, 3);
    const leaves = await bookingFixture(owner, id, 2);
    const day = '2026-06-20';
    const ways: [string, () => Promise<unknown>, number][] = [
      ['a cancellation', () => cancel(leaves, '2026-05-31'), 3],
      ['another place', () => bookingFixture(owner, id, 1), 4],
      [
        'a place less',
        () =>
          owner.post(`/api/bookings/${stays.id}/cancellation`, {
            attendeeIds: [stays.attendees[0]?.personId],
            ...{ reason: 'Ill', refundMinor: 0 },
          }),
        3,
      ],
      ['fewer places', () => db.course.update({ where: { id }, data: { places: 7 } }), 3],
    ];
    await note(day);
    for (const [, change, booked] of ways) {
      expect(await noted()).toContain(id);
      await change();
      expect(await noted()).not.toContain(id);
      const fresh = await past(day);
      await note(day);
      expect(await past(day)).toEqual(fresh);
      expect(await db.courseEnrolment.findUniqueOrThrow({ where: { courseId: id } })).toMatchObject({ booked });
    }
    await db.session.updateMany({
      where: { courseId: id, ordinal: 1 },
      data: { startsAt: new Date('2026-06-08T18:00:00Z') },
    });
    expect(await noted()).not.toContain(id);
    await note(day);
    await db.studio.updateMany({ data: { timeZone: 'Europe/Paris' } });
    expect(await noted()).toEqual([]);
  });
});

const pick = ({ alpha, beta }: { alpha: string; beta: string }) => ({ alpha, beta });
