import { expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

const { db, owner, tutor } = await testApp();
const home = await coursesFixture(owner);
const address = `/api/course-plans/${home.plan.id}`;

test('a retired plan is offered for no new course, and keeps those it has; brought back, it is offered again', async () => {
  const course = await home.addCourse();
  expect((await tutor.post(`${address}/retirement`)).statusCode).toBe(403);
  const retired = await owner.post(`${address}/retirement`);
  expect([retired.statusCode, retired.json().retiredOn]).toEqual([200, '2026-03-10']);
  expect((await owner.post(`${address}/retirement`)).json().type).toBe('/problems/already-there');
  const { items } = (await owner.get('/api/course-plans')).json();
  expect(items.map(({ retiredOn }: { retiredOn: string | null }) => retiredOn)).toEqual(['2026-03-10']);

  const refused = await owner.post('/api/courses', home.body);
  expect([refused.statusCode, refused.json().type]).toEqual([409, '/problems/plan-retired']);
  const { id, completedOn: _, ...row } = await db.course.findUniqueOrThrow({ where: { id: course.id } });
  await expect(db.course.create({ data: { ...row, id: crypto.randomUUID() } })).rejects.toThrow(/WB029/);
  expect((await owner.get(`/api/courses/${id}`)).statusCode).toBe(200);

  expect((await owner.post(`${address}/return`)).json().retiredOn).toBeNull();
  expect((await owner.post(`${address}/return`)).statusCode).toBe(409);
  expect((await owner.post('/api/courses', home.body)).statusCode).toBe(201);
});
