import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { sizeFrom } from '../../../src/trade/materials/vessel-shapes.js';
import { testApp } from '../../support/app.js';
import { planBody, type Workshop, workshopFixture } from '../../support/fixtures/courses.js';
import { studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
let workshop: Workshop;
beforeAll(async () => {
  await studioFixture(owner);
  workshop = await workshopFixture(owner);
});
const body = () => planBody(workshop);
const piece = () => body().pieces[0];

describe('course plans', () => {
  test('a plan is kept and shown as it was sent, piece by piece and in order', async () => {
    const wanted = { ...body(), materials: [{ materialId: workshop.clay.id, perStudent: 200 }] };
    const answer = await owner.post('/api/course-plans', wanted);
    expect(answer.statusCode).toBe(201);
    const { id, ...plan } = answer.json();
    // two mugs of 120 * 88 * 95 mm: dry, 6.5 % larger; bisqued, 1 % less than dry, and fired, both with 6 mm of gap: 2 * 126 * 94 * 101
    const litresPerStudent = { bisque: '2.454612', glaze: '2.813142', lustre: '2.392488' };
    expect(plan).toEqual({ ...wanted, litresPerStudent, retiredOn: null });
    expect((await owner.get(`/api/course-plans/${id}`)).json()).toEqual(answer.json());
    const listed = (await owner.get('/api/course-plans?limit=200')).json().items;
    expect(listed).toContainEqual(answer.json());
  });

  test('a piece of any form, and a word for its size', async () => {
    const pieces = [
      { ...piece(), form: 'pinchPot', size: 'small', glaze: null },
      { ...piece(), form: 'bowl', size: 'large' },
    ];
    const plan = (await owner.post('/api/course-plans', { ...body(), pieces })).json();
    expect(plan.pieces).toMatchObject([
      { form: 'pinchPot', size: sizeFrom('pinchPot', 'small'), glaze: null },
      { form: 'bowl', size: sizeFrom('bowl', 'large') },
    ]);
  });

  test('the same key twice makes one plan', async () => {
    const [wanted, key] = [body(), randomUUID()];
    const [first, second] = [
      await owner.post('/api/course-plans', wanted, key),
      await owner.post('/api/course-plans', wanted, key),
    ];
    expect(second.json()).toEqual(first.json());
    expect(await db.coursePlan.count({ where: { name: wanted.name } })).toBe(1);
  });

  test('a firing that would leave the ware raw or ruin it is refused, and nothing is written', async () => {
    const { kiln, bisque, earthenware } = workshop;
    const before = await db.coursePlan.count();
    const answer = await owner.post('/api/course-plans', {
      ...body(),
      firings: [bisque, earthenware].map(({ id }) => ({ kilnId: kiln.id, scheduleId: id })),
    });
    expect(answer.statusCode).toBe(409);
    expect(answer.json()).toMatchObject({ type: '/problems/outside-range' });
    expect(answer.json().detail).toMatch(
      /^Grey body \d+ fires at 1200 to 1240 °C, and "Earthenware \d+" goes only to 1080 °C/,
    );
    expect(await db.coursePlan.count()).toBe(before);
  });

  test.each([
    ['no sessions', { sessions: [] }, '#/sessions'],
    ['more needed than there are places', { minimum: 9 }, '#/minimum'],
    ['an unknown field', { colour: 'green' }, '#/colour'],
    ['a name that the font lacks', { name: '陶器' }, '#/name'],
    [
      'a session of a minute',
      { sessions: [{ purpose: 'making', minutes: 1, prepareMinutes: 0, clearMinutes: 0 }] },
      '#/sessions/0/minutes',
    ],
  ])('refuses %s', async (_, changes, pointer) => {
    const answer = await owner.post('/api/course-plans', { ...body(), ...changes });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().errors.map((e: { pointer: string }) => e.pointer)).toContain(pointer);
  });

  test.each([
    ['a mug of nothing', { wetMassGrams: 0 }, '/wetMassGrams'],
    ['a mug as high as a house', { size: { widthMm: 100, depthMm: 100, heightMm: 9000 } }, '/size'],
    ['a coating of nothing', { glaze: { materialId: randomUUID(), gramsPerDm2: '0' } }, '/glaze/gramsPerDm2'],
    [
      'a coating with more decimals than are kept',
      { glaze: { materialId: randomUUID(), gramsPerDm2: '4.1234' } },
      '/glaze/gramsPerDm2',
    ],
  ])('refuses %s', async (_, changes, pointer) => {
    const answer = await owner.post('/api/course-plans', { ...body(), pieces: [{ ...piece(), ...changes }] });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().errors[0].pointer).toContain(`#/pieces/0${pointer}`);
  });

  test('clay is clay, a glaze is a glaze, and each name leads somewhere', async () => {
    const send = async (changes: object) => (await owner.post('/api/course-plans', { ...body(), ...changes })).json();
    const swapped = [{ ...piece(), clayId: workshop.glaze.id }];
    expect(await send({ pieces: swapped })).toMatchObject({ type: '/problems/invalid-request' });
    const [materialId, kilnId, scheduleId] = [randomUUID(), randomUUID(), randomUUID()];
    for (const changes of [
      { materials: [{ materialId, perStudent: 1 }] },
      { firings: [{ kilnId, scheduleId: workshop.bisque.id }] },
      { firings: [{ kilnId: workshop.kiln.id, scheduleId }] },
    ])
      expect(await send(changes)).toMatchObject({ type: '/problems/not-found' });
  });

  test('a name is taken once', async () => {
    const { name } = (await owner.post('/api/course-plans', body())).json();
    const answer = await owner.post('/api/course-plans', { ...body(), name });
    expect(answer.json()).toMatchObject({ type: '/problems/already-there', status: 409 });
    expect(answer.json().detail).toContain(name);
  });

  test('a plan holds money, which a tutor neither sees nor writes', async () => {
    const { id } = (await owner.post('/api/course-plans', body())).json();
    const codes = [
      await tutor.post('/api/course-plans', body()),
      await tutor.get('/api/course-plans'),
      await tutor.get(`/api/course-plans/${id}`),
    ].map(({ statusCode }) => statusCode);
    expect(codes).toEqual([403, 403, 403]);
    expect((await owner.get(`/api/course-plans/${randomUUID()}`)).statusCode).toBe(404);
  });
});
