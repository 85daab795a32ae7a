import { beforeAll, expect, test } from 'vitest';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import type { PlanPriceInShort } from '../../../src/studio/pricing/contract.js';
import { testApp } from '../../support/app.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { materialFixture } from '../../support/fixtures/materials.js';
import { made } from '../../support/fixtures.js';

const { owner, tutor, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  for (const { id } of [home.clay, home.glaze])
    await made(owner, `/api/materials/${id}/lots`, {
      ...{ supplier: 'Ostlemere Clays', receivedOn: '2026-03-02', quantity: 100_000, costMinor: 9000 },
    });
  await made(owner, '/api/tariffs', {
    ...{ name: 'Day', validFrom: '2026-01-01', bands: [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }] },
  });
});

const list = async (query = ''): Promise<{ items: PlanPriceInShort[]; next: string | null }> =>
  (await owner.get(`/api/plan-prices${query}`)).json();

test('each plan has the price that its own address tells, or why it has none, and its next course', async () => {
  const unpriced = await materialFixture(owner);
  const lacking = await made<Plan>(owner, '/api/course-plans', {
    ...{ ...planBody(home), name: 'Of a clay that nobody has bought' },
    materials: [{ materialId: unpriced.id, perStudent: 100 }],
  });
  const course = await home.addCourse();
  await home.addCourse({ title: 'The same again, later' });
  const { items, next } = await list();
  const own = (await owner.get(`/api/course-plans/${home.plan.id}/price`)).json();
  expect(next).toBeNull();
  expect(items).toEqual([
    {
      ...{ planId: home.plan.id, fairPriceMinor: own.result.fairPriceMinor, refusal: null },
      next: { courseId: course.id, title: course.title, startsAt: course.sessions[0]?.startsAt },
    },
    {
      ...{ planId: lacking.id, fairPriceMinor: null, next: null },
      refusal: (await owner.get(`/api/course-plans/${lacking.id}/price`)).json().detail,
    },
  ]);
  expect(items[1]?.refusal).toContain(unpriced.name);
  const first = await list('?limit=1');
  expect(first.items).toEqual(items.slice(0, 1));
  expect((await list(`?limit=1&after=${first.next}`)).items).toEqual(items.slice(1));
});

test('a course that is over is not the next, and one that has begun is found as begun', async () => {
  const course = await home.addCourse();
  const begun = async () => (await owner.get('/api/courses?is=begun')).json().items.map(({ id }: { id: string }) => id);
  expect(await begun()).toEqual([]);
  await clock.set(course.sessions[0]?.startsAt ?? '');
  expect(await begun()).toContain(course.id);
  expect((await list()).items[0]?.next).not.toBeNull(); // it is still running
  await clock.set('2027-12-01T09:00:00Z');
  expect((await list()).items[0]?.next).toBeNull();
});

test('a tutor sees no money', async () => {
  expect((await tutor.get('/api/plan-prices')).statusCode).toBe(403);
});
