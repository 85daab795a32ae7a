import { beforeAll, describe, expect, test } from 'vitest';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { Person } from '../../../src/studio/people/contract.js';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { piecesFixture } from '../../support/fixtures/ware.js';
import { made } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});

let count = 0;
const add = (body: object = {}) => made<Person>(owner, '/api/people', { name: `Ines Duval ${++count}`, ...body });
const child = (body: object = {}) => add({ isChild: true, ...body });
const put = (of: Person, ...guardians: Person[]) =>
  owner.put(`/api/people/${of.id}/guardians`, { guardianIds: guardians.map(({ id }) => id) });
const book = (courseId: string, payer: Person, attendees: Person[]) =>
  made<Booking>(owner, `/api/courses/${courseId}/bookings`, {
    payerId: payer.id,
    attendeeIds: attendees.map(({ id }) => id),
  });

describe('a child', () => {
  test('has guardians, whom the register and the page name, the one to ring first first', async () => {
    const [ana, bo] = [
      await add({ name: 'Ana Marsh', email: 'ana@example.org', phone: '07700 900123' }),
      await add({ name: 'Bo Marsh', phone: '07700 900456' }),
    ];
    const ivo = await child({ name: 'Ivo Marsh' });
    expect(ivo).toMatchObject({ isChild: true });
    const both = [
      { personId: bo.id, name: 'Bo Marsh', phone: '07700 900456', email: null },
      { personId: ana.id, name: 'Ana Marsh', phone: '07700 900123', email: 'ana@example.org' },
    ];
    expect((await put(ivo, bo, ana)).json()).toEqual({ guardians: both, guardianOf: [] });
    expect((await owner.get(`/api/people/${ana.id}/guardians`)).json()).toEqual({
      ...{ guardians: [], guardianOf: [{ personId: ivo.id, name: 'Ivo Marsh' }] },
    });
    const course = await home.addCourse();
    await book(course.id, ana, [ivo, ana]);
    const { children } = (await tutor.get(`/api/courses/${course.id}/register`)).json();
    expect(children).toEqual([{ personId: ivo.id, guardians: both, consent: null }]);
  });

  test('who is booked without one is told', async () => {
    const [ana, ivo] = [await add(), await child()];
    const course = await home.addCourse();
    const wish = { payerId: ana.id, attendeeIds: [ana.id, ivo.id] };
    const seen = (await owner.post(`/api/courses/${course.id}/bookings/preview`, wish)).json();
    expect(seen.outcome.attendees).toMatchObject([{ lacksGuardian: false }, { lacksGuardian: true }]);
    const booking = await book(course.id, ana, [ana, ivo]);
    expect(booking.attendees).toMatchObject([{ lacksGuardian: false }, { lacksGuardian: true }]);
    await put(ivo, ana);
    expect((await owner.get(`/api/bookings/${booking.id}`)).json().attendees).toMatchObject([
      { lacksGuardian: false },
      { lacksGuardian: false },
    ]);
  });

  test('whose letters go to the first guardian who has an address, and are addressed to them', async () => {
    const [bo, ana] = [await add({ name: 'Bo Lind' }), await add({ name: 'Ana Lind', email: 'ana.lind@example.org' })];
    const ivo = await child({ name: 'Ivo Lind', email: 'ivo@example.org' });
    await put(ivo, bo, ana);
    const course = await home.addCourse();
    const wish = { payerId: ivo.id, attendeeIds: [ivo.id] };
    const { letters } = (await owner.post(`/api/courses/${course.id}/bookings/preview`, wish)).json();
    expect(letters).toMatchObject([{ personId: ivo.id, personName: 'Ivo Lind', email: 'ana.lind@example.org' }]);
    expect(letters[0].text).toMatch(/^Dear Ana Lind,/);
    expect(letters[0].text).toContain('Ivo Lind');
  });

  test('keeps no guardian once grown up; a guardian is grown up, and no stranger', async () => {
    const [ana, ivo, ida] = [await add(), await child(), await child()];
    expect((await put(ivo, ida)).json()).toMatchObject({ type: '/problems/not-a-child', personId: ida.id });
    expect((await put(ivo, ivo)).json()).toMatchObject({ type: '/problems/not-a-child' });
    expect((await put(ana, await add())).json().detail).toMatch(/^Only a child has a guardian\./);
    expect((await put(ivo, { ...ana, id: '01990000-0000-7000-8000-000000000000' })).statusCode).toBe(404);
    expect((await put(ivo, ana, ana)).statusCode).toBe(422);
    expect((await put(ivo, ana)).statusCode).toBe(200);
    const asChild = { name: ana.name, isChild: true };
    expect((await owner.put(`/api/people/${ana.id}`, asChild)).json()).toMatchObject({ type: '/problems/not-a-child' });
    await expect(db.guardian.create({ data: { childId: ana.id, guardianId: ivo.id, ordinal: 1 } })).rejects.toThrow(
      /guardian/,
    );
    expect((await owner.put(`/api/people/${ivo.id}`, { name: ivo.name })).json().isChild).toBe(false);
    expect(await db.guardian.count({ where: { childId: ivo.id } })).toBe(0);
    expect((await tutor.put(`/api/people/${ida.id}/guardians`, { guardianIds: [] })).statusCode).toBe(403);
  });
});

test('a family of six with one email address: booked at once, told once, found and told apart', async () => {
  const email = 'family@example.org';
  const [ana, bo] = [await add({ name: 'Ana Ruiz', email }), await add({ name: 'Bo Ruiz', email })];
  const children = [];
  for (const name of ['Cy', 'Di', 'Ed', 'Flo']) children.push(await child({ name: `${name} Ruiz`, email }));
  for (const one of children) expect((await put(one, ana, bo)).statusCode).toBe(200);
  const course = await home.addCourse();
  const booking = await book(course.id, ana, [ana, bo, ...children]);
  expect(booking.attendees).toHaveLength(6);
  const first = course.sessions[0];
  const body = { day: '2026-04-15', from: '19:00', until: '21:30', roomId: first?.roomId, tutorIds: [] };
  const moved = (await owner.post(`/api/sessions/${first?.id}/moves/preview`, body)).json();
  expect(moved.letters).toMatchObject([{ personName: 'Ana Ruiz', email }]); // one letter, not six
  expect((await owner.get(`/api/people?q=${email}`)).json().items).toHaveLength(6);
  const { items } = (await owner.get('/api/doubles')).json();
  expect(items).toEqual([]); // they were on a course together
});

test('two entries of one child: the guardians of both are kept, and whose guardian somebody is', async () => {
  const [ana, bo] = [await add(), await add()];
  const [ivo, other] = [await child(), await child()];
  await put(ivo, ana);
  await put(other, bo, ana);
  expect((await owner.post(`/api/people/${ivo.id}/merges`, { otherId: ana.id })).json().detail).toMatch(
    /guardian of the other/,
  );
  expect((await owner.post(`/api/people/${ivo.id}/merges`, { otherId: other.id })).statusCode).toBe(201);
  const guardians = async () =>
    (await owner.get(`/api/people/${ivo.id}/guardians`)).json().guardians.map((one: { name: string }) => one.name);
  expect(await guardians()).toEqual([ana.name, bo.name]);
  const anna = await add();
  expect((await owner.post(`/api/people/${anna.id}/merges`, { otherId: ana.id })).statusCode).toBe(201);
  expect(await guardians()).toEqual([anna.name, bo.name]);
});

test('who was merged is found by what both were called, and a maker by the code of a piece', async () => {
  const [ann, anna] = [await add({ name: 'Ann Sorrel' }), await add({ name: 'Anna Wren', email: 'wren@example.org' })];
  await owner.post(`/api/people/${ann.id}/merges`, { otherId: anna.id, take: [] });
  for (const q of ['anna wren', 'wren@example', 'sorrel'])
    expect((await owner.get(`/api/people?q=${encodeURIComponent(q)}`)).json().items).toMatchObject([{ id: ann.id }]);
  const [piece] = await piecesFixture(owner, ann.id);
  for (const q of [piece?.code ?? '', (piece?.code ?? '').toLowerCase()]) {
    expect((await owner.get(`/api/people?q=${q}`)).json().items).toMatchObject([{ id: ann.id }]);
    expect((await owner.get(`/api/search?q=${q}`)).json().people.items).toMatchObject([{ id: ann.id }]);
  }
});
