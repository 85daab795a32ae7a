import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { CLAY, GLAZE, glazeFixture, lotFixture, materialFixture } from '../../support/fixtures/materials.js';
import { studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
beforeAll(() => studioFixture(owner));

describe('adding a material', () => {
  test('keeps all that is said of it, and the statement as its maker made it', async () => {
    const answer = await owner.post('/api/materials', GLAZE);
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toEqual({
      ...GLAZE,
      id: expect.any(String),
      waterPercent: null,
      dryingShrinkagePercent: null,
      firingShrinkagePercent: null,
      hazardNote: null,
      shelfLifeDays: null,
      inputVatPercent: null,
    });
    const shown = (await owner.get(`/api/materials/${answer.json().id}`)).json();
    expect(shown).toEqual({ ...answer.json(), onHand: 0, asksForCount: false, lots: [], moves: [] });
  });

  test('keeps decimals as they were written', async () => {
    const clay = await materialFixture(owner, { waterPercent: '21.500', dryingShrinkagePercent: '0.001' });
    expect(clay).toMatchObject({ waterPercent: '21.5', dryingShrinkagePercent: '0.001' });
  });

  test.each([
    ['nothing', {}, '#/name'],
    ['a pack of nothing', { ...CLAY, packQuantity: 0 }, '#/packQuantity'],
    ['a pack beyond any lorry', { ...CLAY, packQuantity: 10_000_001 }, '#/packQuantity'],
    ['clay by the piece', { ...CLAY, unit: 'piece' }, '#/unit'],
    ['more water than clay', { ...CLAY, waterPercent: '90.5' }, '#/waterPercent'],
    ['a decimal that could not be kept', { ...CLAY, waterPercent: '21.5555' }, '#/waterPercent'],
    ['a range upside down', { ...CLAY, firingRange: { fromC: 1260, toC: 1200 } }, '#/firingRange/toC'],
    ['a glaze in ml without its density', { ...GLAZE, dryGramsPerMl: null }, '#/dryGramsPerMl'],
    ['a glaze denser than any', { ...GLAZE, dryGramsPerMl: '5.1' }, '#/dryGramsPerMl'],
    ['a density of what is weighed', { ...CLAY, dryGramsPerMl: '0.8' }, '#/dryGramsPerMl'],
    [
      'a statement without a date',
      { ...GLAZE, manufacturerStatement: { quote: 'Fine.' } },
      '#/manufacturerStatement/statedOn',
    ],
    [
      'a statement longer than a notice can quote',
      { ...GLAZE, manufacturerStatement: { quote: 'A'.repeat(301), statedOn: '2026-01-01' } },
      '#/manufacturerStatement/quote',
    ],
    ['a name that the font lacks', { ...CLAY, name: '粘土' }, '#/name'],
  ])('refuses %s', async (_, body, pointer) => {
    const answer = await owner.post('/api/materials', body);
    expect(answer.statusCode).toBe(422);
    expect(answer.json().errors.map((e: { pointer: string }) => e.pointer)).toContain(pointer);
  });

  test('refuses a verdict of our own on food', async () => {
    const answer = await owner.post('/api/materials', { ...GLAZE, name: 'Sedge', foodSafe: true });
    expect(answer.statusCode).toBe(422);
  });

  test('refuses a statement of tomorrow', async () => {
    const manufacturerStatement = { quote: 'Suits food surfaces.', statedOn: '2026-03-11' };
    const answer = await owner.post('/api/materials', { ...GLAZE, name: 'Sedge', manufacturerStatement });
    expect(answer.json().errors).toMatchObject([{ pointer: '#/manufacturerStatement/statedOn' }]);
  });

  test('refuses a second one of the same name', async () => {
    const { name } = await materialFixture(owner);
    const answer = await owner.post('/api/materials', { ...CLAY, name });
    expect(answer.json()).toMatchObject({ status: 409, type: '/problems/already-there' });
    expect(answer.json().detail).toContain(name);
  });

  test('adds one, however often it is sent', async () => {
    const key = randomUUID();
    const body = { ...CLAY, name: 'Sent often' };
    const answers = await Promise.all(Array.from({ length: 5 }, () => owner.post('/api/materials', body, key)));
    expect(new Set(answers.map((a) => a.body)).size).toBe(1);
    expect(await db.material.count({ where: { name: 'Sent often' } })).toBe(1);
  });
});

describe('materials and their stock', () => {
  test('are listed page by page with what is on hand', async () => {
    const clay = await materialFixture(owner);
    await lotFixture(owner, clay.id);
    await lotFixture(owner, clay.id, { quantity: 500 });
    const items = [];
    for (let after = ''; ; ) {
      const page = (await tutor.get(`/api/materials?limit=2${after}`)).json();
      items.push(...page.items);
      if (page.next === null) break;
      after = `&after=${page.next}`;
    }
    expect(items).toHaveLength(await db.material.count());
    expect(items.find((item) => item.id === clay.id)).toEqual({ ...clay, onHand: 13_000, asksForCount: false });
  });

  test('show every move, newest first in short and oldest first in full', async () => {
    const clay = await materialFixture(owner);
    const lot = await lotFixture(owner, clay.id);
    await owner.post(`/api/materials/${clay.id}/draws`, { quantity: 400, note: 'Mugs' });
    const received = { lotId: lot.id, kind: 'received', quantity: 12_500, at: '2026-03-10T09:00:00.000Z', note: '' };
    const drawn = { ...received, kind: 'drawn', quantity: -400, note: 'Mugs' };
    const shown = (await tutor.get(`/api/materials/${clay.id}`)).json();
    expect(shown.moves).toMatchObject([drawn, received]);
    expect(shown.lots).toEqual([
      { id: lot.id, supplier: 'Hollow Hill Clays', receivedOn: '2026-03-03', quantity: 12_500, left: 12_100 },
    ]);
    const all = (await tutor.get(`/api/materials/${clay.id}/moves?limit=1`)).json();
    expect(all.items).toMatchObject([received]);
    expect((await tutor.get(`/api/materials/${clay.id}/moves?after=${all.next}`)).json().items).toMatchObject([drawn]);
  });

  test.each(['', '/moves', '/costs'])('are missed by an id that none has (%s)', async (of) => {
    const answer = await owner.get(`/api/materials/${randomUUID()}${of}`);
    expect(answer.json()).toMatchObject({
      type: '/problems/not-found',
      lookUp: '/api/materials',
    });
  });
});

describe('what a tutor sees', () => {
  test('is never money', async () => {
    const glaze = await glazeFixture(owner);
    await lotFixture(owner, glaze.id, { costMinor: 987_654 });
    const draw = await tutor.post(`/api/materials/${glaze.id}/draws`, { quantity: 100 });
    expect(draw.statusCode).toBe(201);
    const seen = [draw, await tutor.get('/api/materials?limit=200'), await tutor.get(`/api/materials/${glaze.id}`)];
    seen.push(await tutor.get(`/api/materials/${glaze.id}/moves`));
    for (const answer of seen) expect(answer.body).not.toMatch(/minor|cost|worth|987654|979753/i);
  });

  test('leaves costs, values and deliveries to the owner', async () => {
    const clay = await materialFixture(owner);
    const answers = [await tutor.get(`/api/materials/${clay.id}/costs`), await tutor.get('/api/stock-value')];
    answers.push(await tutor.post(`/api/materials/${clay.id}/lots`, {}));
    for (const answer of answers) expect(answer.json()).toMatchObject({ type: '/problems/not-allowed' });
    expect(await db.lot.count({ where: { materialId: clay.id } })).toBe(0);
  });
});
