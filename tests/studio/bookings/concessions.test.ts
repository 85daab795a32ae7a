import { beforeAll, describe, expect, test } from 'vitest';
import { ReceiptContent } from '../../../src/documents/receipt-content.js';
import type { Course } from '../../../src/studio/courses/contract.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made, personFixture } from '../../support/fixtures.js';

const { db, owner } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
let plan: Plan;
beforeAll(async () => {
  home = await coursesFixture(owner);
  plan = await made<Plan>(owner, '/api/course-plans', {
    ...planBody(home),
    soldAt: [
      { label: 'Student', sharePercent: '20', pricePercent: '75' },
      { label: 'Early', sharePercent: '12.5', lessMinor: 1000, payments: 1 },
    ],
  });
});

const addCourse = (changes: object = {}) => home.addCourse({ planId: plan.id, ...changes }) as Promise<Course>;
/** Books for so many new people, the first of whom pays; the first few of them at a concession. */
async function book(course: Course, people: number, at: number[]) {
  const ids: string[] = [];
  for (let i = 0; i < people; i++) ids.push((await personFixture(owner)).id);
  const concessions = at.map((which, i) => ({ attendeeId: ids[i], concessionId: course.concessions[which]?.id }));
  return owner.post(`/api/courses/${course.id}/bookings`, { payerId: ids[0], attendeeIds: ids, concessions });
}

describe('concessions', () => {
  test('are kept with the plan, and follow from it for a course, rounded to the penny', async () => {
    expect(plan.soldAt).toEqual([
      { label: 'Student', sharePercent: '20', pricePercent: '75', lessMinor: 0, payments: null },
      { label: 'Early', sharePercent: '12.5', pricePercent: '100', lessMinor: 1000, payments: 1 },
    ]);
    const course = await addCourse({ priceMinor: 12_050 });
    const id = expect.any(String);
    // 0.75 * 120.50 = 90.375; at most the part of 8 places with which the price reckons, rounded up: 1.6 and 1
    expect(course.concessions).toEqual([
      { id, label: 'Student', priceMinor: 9038, atMost: 2, payments: null },
      { id, label: 'Early', priceMinor: 11_050, atMost: 1, payments: 1 },
    ]);
  });

  test('can be the course’s own', async () => {
    const course = await addCourse({ concessions: [{ label: 'Neighbour', priceMinor: 5000 }] });
    expect(course.concessions).toMatchObject([{ label: 'Neighbour', priceMinor: 5000, atMost: null }]);
    expect((await addCourse({ concessions: [] })).concessions).toEqual([]);
  });

  test('are what the place is charged, with the deposit of each, and the receipt names them', async () => {
    const course = await addCourse({
      concessions: [
        { label: 'Student', priceMinor: 9000, atMost: 2 },
        { label: 'Helper', priceMinor: 2000 },
      ],
    });
    const answer = await book(course, 3, [0, 1]);
    expect(answer.statusCode).toBe(201);
    const booking = answer.json();
    // 90 + 20 + 120; deposits of 30, at most the price: 30 + 20 + 30
    expect(booking).toMatchObject({ priceMinor: 23_000, depositMinor: 8000 });
    expect(booking.attendees.map((a: { concession: string | null }) => a.concession)).toEqual([
      'Student',
      'Helper',
      null,
    ]);
    const paid = (await payFor(owner, booking, 8000)).json();
    const document = await db.document.findUniqueOrThrow({ where: { id: paid.documentId } });
    expect(ReceiptContent.parse(document.content).lines[0]?.description).toBe(
      'Two mugs, 14 April 2026 to 5 May 2026, 3 places (of them 1 Student, 1 Helper)',
    );
  });

  test('are refused where they are given away, with what is left, and free again once cancelled', async () => {
    const course = await addCourse();
    const first = (await book(course, 1, [0])).json();
    const tooMany = await book(course, 2, [0, 0]);
    expect(tooMany.statusCode).toBe(409);
    expect(tooMany.json()).toMatchObject({ type: '/problems/concession-full', placesLeft: 1 });
    expect((await book(course, 2, [0])).statusCode).toBe(201);
    const none = await book(course, 1, [0]);
    expect(none.json()).toMatchObject({ placesLeft: 0, detail: expect.stringContaining('are taken') });
    await made(owner, `/api/bookings/${first.id}/cancellation`, { reason: 'Ill', refundMinor: 0 });
    expect((await book(course, 1, [0])).statusCode).toBe(201);
  });

  test('are given away once, whoever asks at the same time', async () => {
    const course = await addCourse({ concessions: [{ label: 'Student', priceMinor: 9000, atMost: 2 }] });
    const answers = await Promise.all(Array.from({ length: 6 }, () => book(course, 1, [0])));
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 201, 409, 409, 409, 409]);
  });

  test('of another course, or for somebody who does not come, are refused', async () => {
    const [course, other] = [await addCourse(), await addCourse()];
    expect((await book({ ...course, concessions: other.concessions }, 1, [0])).statusCode).toBe(404);
    const person = (await personFixture(owner)).id;
    const answer = await owner.post(`/api/courses/${course.id}/bookings`, {
      ...{ payerId: person, attendeeIds: [person] },
      concessions: [{ attendeeId: (await personFixture(owner)).id, concessionId: course.concessions[0]?.id }],
    });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().errors[0].pointer).toBe('#/concessions');
  });

  test('the database refuses one too many by itself, and one of another course', async () => {
    const course = await addCourse({ concessions: [{ label: 'Student', priceMinor: 9000, atMost: 1 }] });
    const { id } = await bookingFixture(owner, course.id, 2);
    const give = (concessionId: string | undefined) =>
      db.place.updateMany({ where: { bookingId: id }, data: { concessionId: concessionId ?? '' } });
    await expect(give(course.concessions[0]?.id)).rejects.toThrow();
    await expect(give((await addCourse()).concessions[1]?.id)).rejects.toThrow();
    expect(await db.place.count({ where: { bookingId: id, concessionId: { not: null } } })).toBe(0);
  });

  test.each([
    ['shares above all places', { soldAt: [{ label: 'A', sharePercent: '100.01' }] }, '#/soldAt/0/sharePercent'],
    [
      'shares that make more than all',
      {
        soldAt: [
          { label: 'A', sharePercent: '60' },
          { label: 'B', sharePercent: '50' },
        ],
      },
      '#/soldAt',
    ],
    ['a share of nothing', { soldAt: [{ label: 'A', sharePercent: '0' }] }, '#/soldAt/0/sharePercent'],
  ])('a plan with %s is refused', async (_, changes, pointer) => {
    const answer = await owner.post('/api/course-plans', { ...planBody(home), ...changes });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().errors[0].pointer).toBe(pointer);
  });

  test('a concession that would be free, or dearer than the full price, is refused', async () => {
    const body = { ...home.body, planId: plan.id };
    const free = await owner.post('/api/courses', { ...body, priceMinor: 900, depositMinor: 0 });
    expect([free.statusCode, free.json().detail]).toEqual([422, expect.stringContaining('"Early" would cost nothing')]);
    const dear = await owner.post('/api/courses', { ...body, concessions: [{ label: 'A', priceMinor: 12_001 }] });
    expect(dear.json().errors[0].pointer).toBe('#/concessions/0/priceMinor');
  });
});
