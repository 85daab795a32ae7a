import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { CLAY, GLAZE, glazeFixture, lotFixture, materialFixture } from '../../support/fixtures/materials.js';

const { db, owner, tutor } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
  await home.addCourse();
});
const at = (id: string) => `/api/materials/${id}`;

describe('correcting a material', () => {
  test('replaces all that is said of it, and keeps its stock', async () => {
    const clay = await materialFixture(owner);
    await lotFixture(owner, clay.id);
    const hazardNote = { text: 'Its dust harms the lungs. Clean up wet.', statedOn: '2025-11-03' };
    const { waterPercent: _, ...body } = { ...CLAY, name: 'Ostlemere dark', hazardNote, shelfLifeDays: 540 };
    const answer = await tutor.put(at(clay.id), body);
    expect(answer.statusCode).toBe(200);
    expect(answer.json()).toMatchObject({ ...body, id: clay.id, waterPercent: null, onHand: 12_500 });
    const shown = await owner.get(at(clay.id));
    expect([shown.json(), shown.headers.etag]).toEqual([answer.json(), answer.headers.etag]);
  });

  test('takes another kind and unit until something goes by them', async () => {
    const clay = await materialFixture(owner);
    const wax = { name: 'Wax resist', kind: 'wax', unit: 'ml', packQuantity: 500, leadTimeDays: 3 };
    expect((await owner.put(at(clay.id), wax)).json()).toMatchObject(wax);
    await lotFixture(owner, clay.id, { quantity: 500 });
    const answer = await owner.put(at(clay.id), { ...wax, unit: 'piece' });
    expect(answer.json()).toMatchObject({
      type: '/problems/still-needed',
      detail: 'The unit of Wax resist stays ml, because its lots use it. Add another material instead.',
    });
    expect((await owner.put(at(clay.id), { ...wax, kind: 'glass' })).json().detail).toMatch(
      /stays wax, because its lots/,
    );
    expect(await db.material.findUnique({ where: { id: clay.id } })).toMatchObject({ kind: 'wax', unit: 'ml' });
    await expect(db.material.update({ where: { id: clay.id }, data: { unit: 'piece' } })).rejects.toThrow(
      'Foreign key',
    );
  });

  test('calls a powder what it is, also once lots go by it: feldspar entered as a frit is a raw material', async () => {
    const dry = { unit: 'g', packQuantity: 5000, leadTimeDays: 7 };
    const { id } = await materialFixture(owner, { ...dry, kind: 'frit', waterPercent: null, firingRange: null });
    await lotFixture(owner, id, { quantity: 5000 });
    const answer = await owner.put(at(id), { ...dry, name: 'Potash feldspar', kind: 'rawMaterial' });
    expect(answer.json()).toMatchObject({ kind: 'rawMaterial', onHand: 5000 });
    const glaze = await owner.put(at(id), { ...dry, name: 'Potash feldspar', kind: 'glaze' });
    expect(glaze.json().detail).toMatch(/stays raw material, because its lots use it/);
    const inMl = { ...dry, unit: 'ml', name: 'Potash feldspar', kind: 'frit' };
    expect((await owner.put(at(id), inMl)).json().type).toBe('/problems/still-needed');
  });

  test('keeps what a plan goes by', async () => {
    const { id: _, ...glaze } = (await owner.get(at(home.glaze.id))).json();
    const body = { name: glaze.name, kind: 'slip', unit: 'g', packQuantity: 10_000, leadTimeDays: 5 };
    expect((await owner.put(at(home.glaze.id), body)).json().detail).toMatch(/stays glaze, because a plan uses it/);
  });

  test('is refused to who has not seen it, and where another name or day is needed', async () => {
    const glaze = await glazeFixture(owner);
    const clay = await materialFixture(owner);
    expect((await owner.put(at(glaze.id), GLAZE, randomUUID(), {})).statusCode).toBe(428);
    const old = { 'if-match': (await owner.get(at(glaze.id))).headers.etag as string };
    await owner.put(at(glaze.id), { ...GLAZE, name: 'Moss satin, new pot' });
    expect((await owner.put(at(glaze.id), GLAZE, randomUUID(), old)).statusCode).toBe(412);
    expect((await owner.put(at(glaze.id), { ...GLAZE, name: clay.name })).json().type).toBe('/problems/already-there');
    const hazardNote = { text: 'Harmful.', statedOn: '2026-03-11' };
    expect((await owner.put(at(glaze.id), { ...GLAZE, hazardNote })).json().errors).toMatchObject([
      { pointer: '#/hazardNote/statedOn' },
    ]);
    expect((await owner.put(at(randomUUID()), GLAZE)).statusCode).toBe(404);
    expect((await owner.get(at(glaze.id))).json().name).toBe('Moss satin, new pot');
  });

  test('has one effect for a key, and of two at once one is told', async () => {
    const clay = await materialFixture(owner);
    const seen = { 'if-match': (await owner.get(at(clay.id))).headers.etag as string };
    const answers = await Promise.all(
      ['A', 'B', 'C', 'D'].map((name) => owner.put(at(clay.id), { ...CLAY, name: `Body ${name}` }, randomUUID(), seen)),
    );
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([200, 412, 412, 412]);
    const key = randomUUID();
    const now = { 'if-match': (await owner.get(at(clay.id))).headers.etag as string };
    const twice = [1, 2].map(() => owner.put(at(clay.id), { ...CLAY, name: 'Body E' }, key, now));
    expect(new Set((await Promise.all(twice)).map(({ body }) => body)).size).toBe(1);
  });
});
