import { beforeAll, describe, expect, test } from 'vitest';
import type { Course } from '../../../src/studio/courses/contract.js';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';
import { faultsAfter } from '../../support/past-triggers.js';

const { db, owner, tutor, url } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
let course: Course;

const back = (quantity: number, materialId = home.clay.id) =>
  tutor.post(`/api/courses/${course.id}/reclaims`, { materialId, quantity });
const costs = async () => (await owner.get(`/api/materials/${home.clay.id}/costs`)).json();

beforeAll(async () => {
  home = await coursesFixture(owner);
  course = await home.addCourse();
  const lot = { supplier: 'Ostlemere Clays', receivedOn: '2026-03-02', quantity: 10_000, costMinor: 1001 };
  await made(owner, `/api/materials/${home.clay.id}/lots`, lot);
});

describe('what comes back of a course', () => {
  test('is no more than it drew, and nothing before it drew', async () => {
    const early = await back(100);
    expect(early.statusCode).toBe(409);
    expect(early.json()).toMatchObject({ type: '/problems/stock-impossible' });
    await owner.post(`/api/courses/${course.id}/draws`, { materialId: home.clay.id, quantity: 3000 });
    expect((await back(3001)).json().detail).toMatch(/^At most 3000 g of .* can come back/);
    expect((await back(100, home.glaze.id)).statusCode).toBe(409);
  });

  test('lies on the shelf as a lot at the mean cost of what was drawn; all parts together cost exactly that', async () => {
    // 10.01 for 10 kg: the 3000 g cost 3.00; a third of it 1.00
    expect((await costs()).worthMinor).toBe(701);
    const first = await back(1000);
    expect(first.statusCode).toBe(201);
    expect(first.json()).toMatchObject({ materialId: home.clay.id, quantity: 1000, unit: 'g' });
    expect(first.json()).not.toHaveProperty('costMinor'); // a tutor sees no money
    expect((await costs()).lots).toContainEqual(
      expect.objectContaining({ supplier: null, left: 1000, costMinor: 100 }),
    );
    for (const quantity of [999, 1001]) expect((await back(quantity)).statusCode).toBe(201);
    expect(await costs()).toMatchObject({ worthMinor: 1001 });
    expect((await back(1)).statusCode).toBe(409);
    const { items } = (await tutor.get(`/api/courses/${course.id}/reclaims`)).json();
    expect(items.map(({ quantity }: { quantity: number }) => quantity)).toEqual([1000, 999, 1001]);
  });

  test('is held by the database too', async () => {
    const more = await db.lot.findFirstOrThrow({ where: { materialId: home.clay.id, supplier: { not: null } } });
    await expect(db.courseReclaim.create({ data: { lotId: more.id, courseId: course.id } })).rejects.toThrow(
      /was not reclaimed/,
    );
    const { id } = (await owner.post(`/api/materials/${home.clay.id}/reclaim`, { quantity: 5 })).json();
    await expect(db.courseReclaim.create({ data: { lotId: id, courseId: course.id } })).rejects.toThrow(
      /gave 3005 back/,
    );
    await expect(db.courseReclaim.deleteMany()).rejects.toThrow(/never changed/);
    expect(await faultsAfter(url, `INSERT INTO course_reclaim VALUES ('${id}', '${course.id}')`)).toMatch(
      /^no more comes back from a course than it drew, and none of it dearer: course .* drew 3000 .*, and gave 3005 /,
    );
  });
});
