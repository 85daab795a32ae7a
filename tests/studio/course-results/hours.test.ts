import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

const { db, owner, tutor, tutorMember } = await testApp();
let url: string;
let home: Awaited<ReturnType<typeof coursesFixture>>;
const TEACHING = { minutes: 150, what: 'teaching', on: '2026-03-09' };
beforeAll(async () => {
  home = await coursesFixture(owner);
});
const newCourse = async () => {
  const { id } = await home.addCourse();
  url = `/api/courses/${id}/hours`;
  return id;
};
const noted = () =>
  db.courseHours.aggregate({ _sum: { minutes: true }, _count: true, where: { courseId: url.split('/')[3] ?? '' } });

describe('hours noted for a course', () => {
  test('are answered as they were noted, and listed in that order', async () => {
    const courseId = await newCourse();
    const answer = await owner.post(url, TEACHING);
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toMatchObject({
      ...TEACHING,
      courseId,
      staffMemberId: null,
      staffMemberName: null,
      note: '',
    });
    const theirs = {
      ...TEACHING,
      what: 'clearing',
      minutes: 40,
      staffMemberId: tutorMember.id,
      note: 'Wedging room too',
    };
    expect((await owner.post(url, theirs)).json()).toMatchObject({ staffMemberName: 'Test tutor', note: theirs.note });
    const { items, next } = (await owner.get(`${url}?limit=1`)).json();
    expect(items).toEqual([answer.json()]);
    expect((await owner.get(`${url}?limit=1&after=${next}`)).json()).toMatchObject({ items: [theirs], next: null });
  });

  test('are corrected by another entry that says why, down to nothing and no further', async () => {
    await newCourse();
    await owner.post(url, TEACHING);
    const back = { ...TEACHING, minutes: -100, note: 'Was another course' };
    expect((await owner.post(url, { ...back, note: '' })).json().errors).toMatchObject([{ pointer: '#/note' }]);
    expect((await owner.post(url, back)).statusCode).toBe(201);
    const answer = await owner.post(url, back);
    expect(answer.statusCode).toBe(422);
    expect(answer.json().errors).toEqual([
      {
        pointer: '#/minutes',
        detail: 'must take back at most the 50 minutes of teaching that are noted for this person',
      },
    ]);
    expect((await owner.post(url, { ...back, minutes: -50, what: 'kiln' })).statusCode).toBe(422);
    expect((await owner.post(url, { ...back, minutes: -50, staffMemberId: tutorMember.id })).statusCode).toBe(422);
    expect((await noted())._sum.minutes).toBe(50);
  });

  test('are never taken back twice by corrections sent at once', async () => {
    await newCourse();
    await owner.post(url, TEACHING);
    const back = { ...TEACHING, minutes: -150, note: 'Twice' };
    const answers = await Promise.all(Array.from({ length: 8 }, () => owner.post(url, back)));
    expect(answers.filter(({ statusCode }) => statusCode === 201)).toHaveLength(1);
    const refused = answers.filter(({ statusCode }) => statusCode === 422).map((answer) => answer.json().errors);
    expect(refused).toEqual(Array.from({ length: 7 }, () => [expect.objectContaining({ pointer: '#/minutes' })]));
    expect((await noted())._sum.minutes).toBe(0);
  });

  test('sent twice with one key are noted once', async () => {
    await newCourse();
    const key = randomUUID();
    const answers = [await owner.post(url, TEACHING, key), await owner.post(url, TEACHING, key)];
    expect(answers[1]?.json()).toEqual(answers[0]?.json());
    expect((await noted())._count).toBe(1);
  });

  test('are refused where they are none', async () => {
    await newCourse();
    const pointers = async (body: object) =>
      (await owner.post(url, body)).json().errors.map((e: { pointer: string }) => e.pointer);
    expect(await pointers({ ...TEACHING, minutes: 0 })).toEqual(['#/minutes']);
    expect(await pointers({ ...TEACHING, minutes: 1.5 })).toEqual(['#/minutes']);
    expect(await pointers({ ...TEACHING, what: 'sleeping' })).toEqual(['#/what']);
    expect(await pointers({ ...TEACHING, on: '2026-03-11' })).toEqual(['#/on']);
    expect((await owner.post(url, { ...TEACHING, staffMemberId: randomUUID() })).statusCode).toBe(404);
    expect((await owner.post(`/api/courses/${randomUUID()}/hours`, TEACHING)).statusCode).toBe(404);
    expect((await owner.get(`/api/courses/${randomUUID()}/hours`)).statusCode).toBe(404);
    expect((await tutor.post(url, TEACHING)).statusCode).toBe(403);
    expect((await tutor.get(url)).statusCode).toBe(403);
    expect((await noted())._count).toBe(0);
  });

  test('stay, and the database itself keeps them above nothing', async () => {
    const courseId = await newCourse();
    await owner.post(url, TEACHING);
    await expect(db.courseHours.deleteMany()).rejects.toThrow(/never changed/);
    const row = {
      courseId,
      what: 'teaching' as const,
      minutes: -151,
      workedOn: new Date('2026-03-09'),
      note: 'Past the service',
      notedAt: new Date(),
    };
    await expect(db.courseHours.create({ data: { id: randomUUID(), ...row } })).rejects.toThrow();
    expect((await noted())._sum.minutes).toBe(150);
  });
});
