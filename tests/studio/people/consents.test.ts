import { beforeAll, expect, test } from 'vitest';
import type { Consent } from '../../../src/studio/bookings/consents/contract.js';
import type { Person } from '../../../src/studio/people/contract.js';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});

let count = 0;
const add = (body: object = {}) => made<Person>(owner, '/api/people', { name: `Ines Duval ${++count}`, ...body });
async function family() {
  const [ana, ivo] = [await add(), await add({ isChild: true })];
  await owner.put(`/api/people/${ivo.id}/guardians`, { guardianIds: [ana.id] });
  const course = await home.addCourse();
  await made(owner, `/api/courses/${course.id}/bookings`, { payerId: ana.id, attendeeIds: [ana.id, ivo.id] });
  const onRegister = async (id = course.id) =>
    (await tutor.get(`/api/courses/${id}/register`)).json().children as { consent: Consent | null }[];
  return { ana, ivo, course, onRegister };
}
const note = ({ id }: Person, body: object) => owner.post(`/api/people/${id}/consents`, body);

test('a consent says who, when, how and for what; the register says which are missing', async () => {
  const { ana, ivo, course, onRegister } = await family();
  expect(await onRegister()).toMatchObject([{ personId: ivo.id, consent: null }]);
  const body = { givenById: ana.id, courseId: course.id, means: 'onPaper', what: 'Takes part, first aid' };
  const given = (await note(ivo, { ...body, givenOn: '2026-03-01' })).json();
  expect(given).toMatchObject({
    ...{ childId: ivo.id, givenByName: ana.name, courseTitle: course.title, givenOn: '2026-03-01', means: 'onPaper' },
    ...{ what: 'Takes part, first aid', notedBy: 'Test owner', withdrawnAt: null },
  });
  expect(await onRegister()).toMatchObject([{ consent: { id: given.id } }]);
  const another = await home.addCourse();
  await made(owner, `/api/courses/${another.id}/bookings`, { payerId: ana.id, attendeeIds: [ivo.id] });
  expect(await onRegister(another.id)).toMatchObject([{ consent: null }]); // it was for the first course alone
  const all = (await note(ivo, { ...body, courseId: null, means: 'byPhone' })).json();
  expect(all.givenOn).toBe('2026-03-10'); // today
  expect(await onRegister(another.id)).toMatchObject([{ consent: { id: all.id } }]);
  const { items } = (await tutor.get(`/api/people/${ivo.id}/consents`)).json();
  expect(items.map(({ id }: Consent) => id)).toEqual([all.id, given.id]);
});

test('it is withdrawn once, and stays readable', async () => {
  const { ana, ivo, onRegister } = await family();
  const { id } = (await note(ivo, { givenById: ana.id, means: 'inPerson', what: 'Takes part' })).json();
  const withdraw = () => owner.post(`/api/consents/${id}/withdrawal`);
  expect((await withdraw()).json()).toMatchObject({ withdrawnBy: 'Test owner' });
  expect((await withdraw()).json().type).toBe('/problems/already-cancelled');
  expect(await onRegister()).toMatchObject([{ consent: null }]);
  expect((await owner.get(`/api/people/${ivo.id}/consents`)).json().items).toHaveLength(1);
  await expect(db.consent.updateMany({ where: { id }, data: { what: 'All' } })).rejects.toThrow(/stays as it was/);
  await expect(db.consent.deleteMany({ where: { id } })).rejects.toThrow(/stays as it was/);
});

test('only a guardian agrees, for a child, and not tomorrow', async () => {
  const { ana, ivo } = await family();
  const bo = await add();
  const body = { givenById: bo.id, means: 'inPerson', what: 'Takes part' };
  expect((await note(ivo, body)).json().detail).toMatch(/^Only a guardian of .* can agree/);
  expect((await note(ana, body)).json().detail).toMatch(/is grown up, and agrees themselves/);
  const tomorrow = { ...body, givenById: ana.id, givenOn: '2026-03-11' };
  expect((await note(ivo, tomorrow)).json()).toMatchObject({ status: 422, errors: [{ pointer: '#/givenOn' }] });
  expect((await note(ivo, { ...tomorrow, givenOn: '2026-03-10', what: ' ' })).statusCode).toBe(422);
  expect((await tutor.post(`/api/people/${ivo.id}/consents`, body)).statusCode).toBe(403);
});

test('goes over with a guardian or a child who is merged', async () => {
  const { ana, ivo, onRegister } = await family();
  await note(ivo, { givenById: ana.id, means: 'inPerson', what: 'Takes part' });
  const [anna, other] = [await add(), await add({ isChild: true })];
  expect((await owner.post(`/api/people/${anna.id}/merges`, { otherId: ana.id })).statusCode).toBe(201);
  expect((await owner.post(`/api/people/${other.id}/merges`, { otherId: ivo.id })).statusCode).toBe(201);
  expect(await onRegister()).toMatchObject([{ personId: other.id, consent: { givenByName: anna.name } }]);
});
