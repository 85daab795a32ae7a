import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { newId } from '../../../src/http/ids.js';
import type { Tile } from '../../../src/studio/tiles/contract.js';
import { testApp } from '../../support/app.js';
import { planBody, workshopFixture } from '../../support/fixtures/courses.js';
import { kilnFixture, scheduleFixture } from '../../support/fixtures/kilns.js';
import { GLAZE, glazeFixture, materialFixture } from '../../support/fixtures/materials.js';
import { mixFixture } from '../../support/fixtures/mixes.js';
import { made, studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
beforeAll(() => studioFixture(owner));

async function setting() {
  const [clay, glaze] = [await materialFixture(owner), await glazeFixture(owner)];
  const body = {
    ...{ name: 'Moss over buff', bodyId: clay.id, colour: 'Dark green', surface: 'Satin', notes: 'Thick at the foot' },
    layers: [{ materialId: glaze.id, coats: 2, way: 'dipped' }],
    firing: { firedOn: '2026-03-05', cone: '6' },
    run: 'stayed',
  };
  return { clay, glaze, body };
}
const found = async (query: string): Promise<string[]> =>
  (await owner.get(`/api/test-tiles?${query}`)).json().items.map((tile: Tile) => tile.name);

describe('a test tile', () => {
  test('keeps what it is made of, how it was fired and how it came out', async () => {
    const { clay, glaze, body } = await setting();
    const [kiln, schedule] = [await kilnFixture(owner), await scheduleFixture(owner)];
    const firing = { ...body.firing, kilnId: kiln.id, scheduleId: schedule.id };
    const answer = await tutor.post('/api/test-tiles', { ...body, firing });
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toMatchObject({
      ...{ number: expect.any(Number), name: 'Moss over buff', body: { id: clay.id, name: clay.name } },
      layers: [{ materialId: glaze.id, name: glaze.name, coats: 2, way: 'dipped' }],
      firing: { firedOn: '2026-03-05', kiln: { name: kiln.name }, schedule: { name: schedule.name }, cone: '6' },
      ...{ run: 'stayed', defects: '', photos: [] },
    });
    expect((await owner.get(`/api/test-tiles/${answer.json().id}`)).json()).toEqual(answer.json());
  });

  test('is written on by who has seen it, layers in their new order', async () => {
    const { body, glaze } = await setting();
    const other = await glazeFixture(owner);
    const { id, number } = await made<Tile>(owner, '/api/test-tiles', { ...body, firing: null, run: null });
    const url = `/api/test-tiles/${id}`;
    const layers = [{ materialId: other.id, way: 'brushed' }, ...body.layers];
    const changed = await owner.put(url, { ...body, layers, defects: 'Pinholes' });
    expect(changed.json()).toMatchObject({ number, defects: 'Pinholes', firing: { cone: '6' } });
    expect(changed.json().layers.map((layer: { name: string }) => layer.name)).toEqual([other.name, glaze.name]);
    expect((await owner.put(url, body, randomUUID(), {})).statusCode).toBe(428);
    expect((await owner.put(url, body, randomUUID(), { 'if-match': '"of-another"' })).statusCode).toBe(412);
  });

  test('quotes a manufacturer on their one glaze, put on and fired as they ask, and nobody on anything else', async () => {
    const { body } = await setting();
    const asks = { coats: { least: 2, most: 3 }, way: 'dipped', firing: null };
    const said = { ...GLAZE.manufacturerStatement, asks };
    const glaze = await glazeFixture(owner, { manufacturerStatement: said });
    const other = await glazeFixture(owner);
    const stoneware = await scheduleFixture(owner, {
      ...{ kind: 'glaze', cone: '6' },
      segments: [{ ratePerHourC: 60, targetC: 1222, holdMinutes: 10 }],
    });
    const fired = { ...body.firing, scheduleId: stoneware.id };
    const dipped = { materialId: glaze.id, coats: 2, way: 'dipped' };
    const quoted = async (layers: object[], firing: object = fired) =>
      (await made<Tile>(owner, '/api/test-tiles', { ...body, layers, firing })).manufacturerStatement;
    const { statedOn, quote } = said;
    expect(await quoted([dipped])).toEqual({ name: glaze.name, quote, statedOn });
    expect(await quoted([{ ...dipped, coats: 1 }])).toBeNull();
    expect(await quoted([{ ...dipped, way: 'brushed' }])).toBeNull();
    expect(await quoted([dipped], { ...fired, scheduleId: (await scheduleFixture(owner)).id })).toBeNull(); // a bisque
    expect(await quoted([dipped], body.firing)).toBeNull(); // by no schedule that anybody noted
    expect(await quoted([dipped, { materialId: other.id, way: 'poured' }])).toBeNull();
    expect(await quoted([{ materialId: other.id, way: 'poured' }])).not.toBeNull();
    await mixFixture(owner, [glaze.id], { weights: 'wet' }, other.id);
    expect(await quoted([{ materialId: other.id, way: 'poured' }])).toBeNull();
  });

  test.each([
    ['of no clay', async (s: Setting) => ({ bodyId: s.glaze.id }), '#/bodyId'],
    [
      'coated with clay',
      async (s: Setting) => ({ layers: [{ materialId: s.clay.id, way: 'poured' }] }),
      '#/layers/0/materialId',
    ],
    ['without a layer', async () => ({ layers: [] }), '#/layers'],
    ['fired tomorrow', async () => ({ firing: { firedOn: '2026-03-11' } }), '#/firing/firedOn'],
    ['to a cone that is none', async () => ({ firing: { firedOn: '2026-03-01', cone: '06½' } }), '#/firing/cone'],
    ['that ran before it was fired', async () => ({ firing: null, run: 'ranOff' }), '#/run'],
    ['called food safe', async () => ({ foodSafe: true }), '#/foodSafe'],
  ])('is refused %s', async (_, changes, pointer) => {
    const s = await setting();
    const answer = await owner.post('/api/test-tiles', { ...s.body, ...(await changes(s)) });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().errors[0].pointer).toContain(pointer.replace(/\/$/, ''));
  });

  test('is refused with a kiln or a glaze that there is not', async () => {
    const { body } = await setting();
    for (const changes of [
      { firing: { firedOn: '2026-03-01', kilnId: randomUUID() } },
      { layers: [{ materialId: randomUUID(), way: 'poured' }] },
    ])
      expect((await owner.post('/api/test-tiles', { ...body, ...changes })).statusCode).toBe(404);
  });

  test('has a number of its own, of many entered at once, and is entered once by one key', async () => {
    const { body } = await setting();
    const key = randomUUID();
    const many = await Promise.all(Array.from({ length: 6 }, () => owner.post('/api/test-tiles', body)));
    expect(new Set(many.map((answer) => answer.json().number)).size).toBe(6);
    const same = await Promise.all([1, 2].map(() => owner.post('/api/test-tiles', body, key)));
    expect(same[0]?.body).toBe(same[1]?.body);
  });
});
type Setting = Awaited<ReturnType<typeof setting>>;

describe('looking for tiles', () => {
  test('goes by words, wherever they stand, and by glaze and body', async () => {
    const { body, clay, glaze } = await setting();
    const celadon = await glazeFixture(owner, { name: 'Hillbrook celadon' });
    const layers = [{ materialId: celadon.id, way: 'brushed' }];
    const tile = { ...body, name: 'Heron 100%', layers, notes: 'Crackles over slip', colour: 'Grey-green' };
    const { number } = await made<Tile>(owner, '/api/test-tiles', tile);
    for (const words of ['heron', 'HILLBROOK', 'crackles%20celadon', 'grey%20100%25', `${number}%20heron`])
      expect(await found(`search=${words}`), words).toEqual(['Heron 100%']);
    expect(await found('search=heron%20cobalt')).toEqual([]);
    expect(await found('search=h%25n')).toEqual([]); // a percent sign is one
    expect(await found(`glazeId=${celadon.id}`)).toEqual(['Heron 100%']);
    expect(await found(`bodyId=${clay.id}&search=heron`)).toEqual(['Heron 100%']);
    expect(await found(`bodyId=${clay.id}&glazeId=${glaze.id}`)).toEqual([]);
  });
});

test('looking for many words costs as much as there are words', async () => {
  const { clay, glaze } = await setting();
  const notes = 'a b c d e f g '.repeat(20);
  const said = { bodyId: clay.id, colour: 'Dark green', surface: 'Satin', defects: '', notes };
  const tiles = Array.from({ length: 1000 }, (_, i) => ({
    id: newId(),
    name: 'One of many',
    number: 10_000 + i,
    ...said,
  }));
  await db.testTile.createMany({ data: tiles });
  const layer = { materialId: glaze.id, ordinal: 1, coats: 1, way: 'dipped' as const };
  await db.testTileLayer.createMany({ data: tiles.map(({ id }) => ({ tileId: id, ...layer })) });
  const search = (words: number) =>
    encodeURIComponent(Array.from({ length: words }, (_, i) => 'abcdefg'[i % 7]).join(' '));
  const milliseconds = async (words: number) => {
    const start = performance.now();
    const answer = await owner.get(`/api/test-tiles?limit=1&search=${search(words)}`);
    expect(answer.json().items).toHaveLength(1);
    return performance.now() - start;
  };
  await milliseconds(2); // what is only done once
  const times: [number, number][] = [];
  for (let i = 0; i < 5; i++) times.push([await milliseconds(25), await milliseconds(100)]);
  const least = (of: 0 | 1) => Math.min(...times.map((pair) => pair[of])); // what others did meanwhile is in the rest
  expect(least(1)).toBeLessThan(8 * least(0)); // four times the words; sixteen times, where it grows by the square
});

test('a plan points at the tile that its ware shall look like, and at none that there is not', async () => {
  const { body } = await setting();
  const { id: tileId } = await made<Tile>(owner, '/api/test-tiles', body);
  const plan = planBody(await workshopFixture(owner));
  const [piece] = plan.pieces;
  const answer = await owner.post('/api/course-plans', {
    ...plan,
    pieces: [
      { ...piece, tileId },
      { ...piece, tileId: null },
    ],
  });
  expect(answer.json().pieces).toMatchObject([{ tileId }, { tileId: null }]);
  expect((await owner.get(`/api/course-plans/${answer.json().id}`)).json()).toEqual(answer.json());
  const stray = { ...plan, name: 'Astray', pieces: [{ ...piece, tileId: randomUUID() }] };
  expect((await owner.post('/api/course-plans', stray)).json()).toMatchObject({
    ...{ status: 404, detail: expect.stringContaining('No test tile') },
  });
});
