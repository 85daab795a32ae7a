import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { sizeFrom } from '../../../src/trade/materials/vessel-shapes.js';
import { findBrokenRules } from '../../invariants.js';
import { testApp } from '../../support/app.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { app, db, clock, owner, tutor } = await testApp();
let fixture: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  fixture = await coursesFixture(owner);
});

type Kept = ReturnType<typeof planBody> & {
  retiredOn: string | null;
  id: string;
  litresPerStudent: Record<'bisque' | 'glaze' | 'lustre', string>;
};
const newPlan = (changes: object = {}) => made<Kept>(owner, '/api/course-plans', { ...planBody(fixture), ...changes });
const urlOf = ({ id }: Kept) => `/api/course-plans/${id}`;
const bodyOf = ({ id: _, litresPerStudent: __, retiredOn: ___, ...body }: Kept) => body;

describe('a plan is corrected', () => {
  test('in all that it says, and then reads as it was sent', async () => {
    const plan = await newPlan();
    const { clay, kiln, bisque, zero } = { zero: fixture.standard, ...fixture };
    const wanted = {
      ...bodyOf(plan),
      name: `${plan.name}, evenings`,
      ...{ places: 10, minimum: 5, payments: 3, otherMinutes: 200, minutesPerStudent: 12, dryingDays: 9 },
      ...{ advertisingMinor: 1, sunkIfCancelledMinor: 2, secondTutor: null, firingIncludedLitres: '2.5' },
      sessions: [plan.sessions[1], plan.sessions[0], plan.sessions[0]],
      pieces: [
        {
          ...{ form: 'bowl', size: 'small', wetMassGrams: 600, perStudent: 3 },
          ...{ comesAs: null, tileId: null, clayId: clay.id, glaze: null },
        },
      ],
      materials: [{ materialId: clay.id, perStudent: 100 }],
      firings: [{ kilnId: kiln.id, scheduleId: bisque.id }],
      soldAt: [{ label: 'Student', sharePercent: '20', pricePercent: '90', lessMinor: 0, payments: null }],
      parts: [{ label: 'Kit', taxRateId: zero.id, sharePercent: '10', amountMinor: null }],
    };
    const answer = await owner.put(urlOf(plan), wanted);
    expect(answer.statusCode).toBe(200);
    const { litresPerStudent, retiredOn: _, ...shown } = answer.json();
    const pieces = [{ ...wanted.pieces[0], size: sizeFrom('bowl', 'small') }];
    expect(shown).toEqual({ ...wanted, pieces, id: plan.id });
    // three bowls of 120 * 120 * 55 mm: dry and in one another, bisqued, and fired 126 * 126 * 61 mm with the gap
    expect(litresPerStudent).toEqual({ bisque: '1.647174', glaze: '3.411789', lustre: '2.905308' });
    const read = await owner.get(urlOf(plan));
    expect(read.json()).toEqual(answer.json());
    expect(read.headers.etag).toBe(answer.headers.etag);
  });

  test('by one only of two who read the same', async () => {
    const plan = await newPlan();
    const etag = String((await owner.get(urlOf(plan))).headers.etag);
    const put = (places: number, conditions: { 'if-match'?: string }) =>
      owner.put(urlOf(plan), { ...bodyOf(plan), places }, randomUUID(), conditions);
    expect((await put(9, {})).json()).toMatchObject({ type: '/problems/tag-required', status: 428 });
    const answers = await Promise.all([9, 10, 11, 12].map((places) => put(places, { 'if-match': etag })));
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([200, 412, 412, 412]);
    const kept = answers.find(({ statusCode }) => statusCode === 200);
    expect((await owner.get(urlOf(plan))).json()).toEqual(kept?.json());
  });

  test('once, however often it is sent', async () => {
    const plan = await newPlan();
    const key = randomUUID();
    const conditions = { 'if-match': String((await owner.get(urlOf(plan))).headers.etag) };
    const send = () => owner.put(urlOf(plan), { ...bodyOf(plan), places: 9 }, key, conditions);
    const first = await send();
    await owner.put(urlOf(plan), { ...bodyOf(plan), places: 12 });
    expect((await send()).json()).toEqual(first.json());
    expect((await owner.get(urlOf(plan))).json().places).toBe(12);
  });

  test('or not at all: what is wrong is named by its field, and nothing is kept', async () => {
    const [plan, other] = [await newPlan(), await newPlan()];
    const { glaze, kiln, earthenware } = fixture;
    const before = (await owner.get(urlOf(plan))).json();
    const piece = plan.pieces[0];
    for (const [changes, status, pointer] of [
      [{ minimum: 9 }, 422, '#/minimum'],
      [{ name: other.name }, 409, '#/name'],
      [{ pieces: [{ ...piece, clayId: glaze.id }] }, 422, '#/pieces/0/clayId'],
      [{ firings: [...plan.firings, { kilnId: kiln.id, scheduleId: earthenware.id }] }, 409, '#/firings/2/scheduleId'],
    ] as const) {
      const answer = await owner.put(urlOf(plan), { ...bodyOf(plan), ...changes });
      expect([answer.statusCode, answer.json().errors[0]?.pointer]).toEqual([status, pointer]);
    }
    expect((await owner.get(urlOf(plan))).json()).toEqual(before);
    expect((await owner.put(`/api/course-plans/${randomUUID()}`, bodyOf(plan))).statusCode).toBe(404);
    expect((await tutor.put(urlOf(plan), bodyOf(plan))).statusCode).toBe(403);
  });
});

describe('a plan on which courses stand', () => {
  const standing = async (changes: object = {}) => {
    const plan = await newPlan(changes);
    return { plan, course: await fixture.addCourse({ planId: plan.id }) };
  };

  test('is corrected in its quantities, and its courses stay as they are', async () => {
    const { plan, course } = await standing();
    const soldAt = [{ label: 'Student', sharePercent: '20', pricePercent: '90', lessMinor: 0, payments: null }];
    const changes = { name: `${plan.name} again`, places: 12, otherMinutes: 10, soldAt };
    const sessions = plan.sessions.map((session) => ({ ...session, minutes: 100 }));
    const answer = await owner.put(urlOf(plan), { ...bodyOf(plan), ...changes, sessions });
    expect(answer.statusCode).toBe(200);
    expect((await owner.get(`/api/courses/${course.id}`)).json()).toEqual(course);
  });

  test('keeps what its places are sold as, and a session for each date', async () => {
    const { plan, course } = await standing();
    const [making, glazing] = plan.sessions;
    for (const [changes, pointer] of [
      [{ kind: 'private', groupOf: 4 }, '#/kind'],
      [{ sessions: [making] }, '#/sessions'],
      [{ sessions: [making, making, glazing] }, '#/sessions'],
      [{ sessions: [glazing, making] }, '#/sessions'],
    ] as const) {
      const answer = await owner.put(urlOf(plan), { ...bodyOf(plan), ...changes });
      expect(answer.json()).toMatchObject({ type: '/problems/still-needed', status: 409, errors: [{ pointer }] });
      expect(answer.json().detail).toMatch(new RegExp(`^"${course.title}" uses this plan: .*Begin a new plan`));
    }
  });

  test('keeps how many heads a group has', async () => {
    const plan = await newPlan({ kind: 'private', groupOf: 6, secondTutor: null });
    await fixture.addCourse({ planId: plan.id, perHeadAboveMinor: 1000 });
    await fixture.addCourse({ planId: plan.id, perHeadAboveMinor: 1000 });
    const answer = await owner.put(urlOf(plan), { ...bodyOf(plan), groupOf: 5 });
    expect(answer.json()).toMatchObject({ status: 409, errors: [{ pointer: '#/groupOf' }] });
    expect(answer.json().detail).toContain('and 1 more');
  });

  test('keeps the kinds of its firings once one has begun', async () => {
    const { plan } = await standing();
    const { kiln, bisque, stoneware } = fixture;
    const firing = ({ id }: { id: string }) => ({ kilnId: kiln.id, scheduleId: id });
    const put = (firings: object[]) => owner.put(urlOf(plan), { ...bodyOf(plan), firings });
    expect((await put([firing(bisque)])).statusCode).toBe(200);
    expect((await put([firing(bisque), firing(stoneware)])).statusCode).toBe(200);
    const before = clock.now();
    await clock.set('2026-04-15T09:00:00Z');
    expect((await put([firing(bisque)])).json()).toMatchObject({ errors: [{ pointer: '#/firings' }] });
    const { id } = await made(owner, '/api/schedules', {
      ...{ name: 'Slower stoneware', kind: 'glaze' },
      segments: [{ ratePerHourC: 60, targetC: 1222, holdMinutes: 10 }],
    });
    expect((await put([firing(bisque), firing({ id })])).statusCode).toBe(200);
    await clock.set(before.toISOString());
  });

  test('is not changed from under a course that is being made of it', async () => {
    for (let round = 0; round < 8; round++) {
      const plan = await newPlan();
      const [making, glazing] = plan.sessions;
      const room = await made(owner, '/api/rooms', { name: `Loft ${randomUUID()}`, benches: 8 });
      const dates = fixture.body.sessions.map((session) => ({ ...session, roomId: room.id }));
      const conditions = { 'if-match': String((await owner.get(urlOf(plan))).headers.etag) };
      const longer = { ...bodyOf(plan), sessions: [making, making, glazing] };
      const [changed, added] = await Promise.all([
        owner.put(urlOf(plan), longer, randomUUID(), conditions),
        owner.post('/api/courses', { ...fixture.body, planId: plan.id, sessions: dates }),
      ]);
      expect([`${changed.statusCode} ${added.statusCode}`]).toContainEqual(
        expect.stringMatching(/^200 422$|^409 201$/),
      );
    }
    expect(await findBrokenRules(db)).toEqual([]);
  });

  test('that has other sessions than they is named when the rules are looked over', async () => {
    const { plan, course } = await standing();
    const where = { planId_ordinal: { planId: plan.id, ordinal: 2 } };
    await db.planSession.update({ where, data: { purpose: 'slip' } });
    expect(await findBrokenRules(app.db)).toEqual([
      `a course has the sessions of its plan: course ${course.id} has sessions for making, glazing, and its plan for making, slip`,
    ]);
    await db.planSession.update({ where, data: { purpose: 'glazing' } });
  });
});
