import { randomUUID } from 'node:crypto';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { mayBecome, STAGES, type Stage, whyNot } from '../../../src/trade/firing/ware-stages.js';
import { testApp } from '../../support/app.js';
import { glazeFixture, materialFixture } from '../../support/fixtures/materials.js';
import { boardFixture, MUG, noted, piecesFixture } from '../../support/fixtures/ware.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
let maker: { id: string };
beforeAll(async () => {
  await studioFixture(owner);
  maker = await personFixture(owner);
});
const story = async (id: string | undefined) => (await owner.get(`/api/pieces/${id}`)).json();
const one = async (changes: Record<string, unknown> = {}) => {
  const [piece] = await piecesFixture(owner, maker.id, changes);
  if (!piece) throw new Error('no piece');
  return piece;
};

describe('what a hand may note', () => {
  const order = STAGES.filter((stage) => !['broken', 'reclaimed', 'givenAway'].includes(stage));

  test('goes one step forward, never by hand to what only fire makes; raw clay goes back, and anything breaks', () => {
    fc.assert(
      fc.property(fc.constantFrom(...STAGES), fc.constantFrom(...STAGES), (from, to) => {
        const step = order.includes(from) && order.includes(to) && order.indexOf(to) === order.indexOf(from) + 1;
        const byFire = to === 'bisque' || to === 'fired';
        const ends = to === 'broken' ? from !== 'reclaimed' : to === 'reclaimed' && /^(greenware|dry)$/.test(from);
        const allowed = from === to || ends || (step && !byFire);
        expect(mayBecome(from, to)).toBe(allowed);
        if (!allowed) expect(whyNot(from, to)).toMatch(/^is \w+/);
      }),
    );
  });

  test('leaves the fire out of no road from clay to shelf', () => {
    const reach = (from: Stage): Set<Stage> => {
      const found = new Set<Stage>([from]);
      for (const at of found) for (const to of STAGES) if (mayBecome(at, to)) found.add(to);
      return found;
    };
    expect([...reach('greenware')].sort()).toEqual(['broken', 'dry', 'greenware', 'reclaimed']);
    expect([...reach('bisque')].sort()).toEqual(['bisque', 'broken', 'glazed']);
    expect([...reach('fired')].sort()).toEqual(['broken', 'collected', 'fired', 'ready']);
  });
});

describe('noting stages', () => {
  test('moves pieces on and elsewhere, and keeps what was', async () => {
    const [from, to] = [await boardFixture(owner), await boardFixture(owner, { kind: 'shelf' })];
    const piece = await one({ boardId: from.id });
    const body = { pieceIds: [piece.id], stage: 'dry', note: 'A week by the window', boardId: to.id };
    const answer = await tutor.post('/api/pieces/stage', body);
    expect(answer.statusCode).toBe(200);
    expect(answer.json().items).toMatchObject([{ id: piece.id, stage: 'dry', boardId: to.id }]);
    expect((await story(piece.id)).events).toMatchObject([
      { stage: 'greenware', boardName: from.name },
      { stage: 'dry', boardName: to.name, note: 'A week by the window' },
    ]);
  });

  test('is refused whole where one piece is not at a stage for it, and names that one', async () => {
    const [good, bad] = [await one({ stage: 'bisque' }), await one()];
    const answer = await owner.post('/api/pieces/stage', { pieceIds: [good.id, bad.id], stage: 'glazed' });
    expect(answer.statusCode).toBe(409);
    expect(answer.json()).toMatchObject({ type: '/problems/wrong-stage', pieceIds: [bad.id] });
    expect(answer.json().detail).toContain(`${bad.code} is greenware and can only become dry or reclaimed or broken`);
    expect((await story(good.id)).stage).toBe('bisque');
    const fire = await owner.post('/api/pieces/stage', { pieceIds: [bad.id], stage: 'bisque' });
    expect(fire.json().detail).toContain('only unloading a firing makes it bisque');
    expect((await owner.post('/api/pieces/stage', { pieceIds: [randomUUID()], stage: 'dry' })).statusCode).toBe(404);
    const twice = await owner.post('/api/pieces/stage', { pieceIds: [good.id, good.id], stage: 'glazed' });
    expect(twice.statusCode).toBe(422);
  });

  test('takes broken ware off its board', async () => {
    const board = await boardFixture(owner);
    const piece = await one({ boardId: board.id });
    await noted(owner, [piece], 'broken');
    expect(await story(piece.id)).toMatchObject({ stage: 'broken', boardId: null });
    expect((await owner.post('/api/pieces/stage', { pieceIds: [piece.id], stage: 'dry' })).json().detail).toContain(
      'nothing else any more',
    );
  });

  test('writes one event when one key comes many times, and never a step twice when many come at once', async () => {
    const piece = await one();
    const key = randomUUID();
    const body = { pieceIds: [piece.id], stage: 'dry' };
    await Promise.all(Array.from({ length: 8 }, () => owner.post('/api/pieces/stage', body, key)));
    expect((await story(piece.id)).events).toHaveLength(2);
    const glazed = await one({ stage: 'bisque' });
    const answers = await Promise.all(
      Array.from({ length: 12 }, (_, i) =>
        owner.post('/api/pieces/stage', { pieceIds: [glazed.id], stage: i % 2 === 0 ? 'broken' : 'glazed' }),
      ),
    );
    const after = await story(glazed.id);
    expect(after.stage).toBe('broken');
    const stages: Stage[] = after.events.map(({ stage }: { stage: Stage }) => stage);
    expect(stages.lastIndexOf('glazed')).toBeLessThan(stages.indexOf('broken')); // nobody glazes shards
    expect(after.events).toHaveLength(1 + answers.filter((answer) => answer.statusCode === 200).length);
  });
});

describe('boards', () => {
  test('hold ware, and what is noted on one is noted on each piece on it', async () => {
    const board = await boardFixture(tutor);
    const pieces = await piecesFixture(owner, maker.id, { boardId: board.id, ware: [{ ...MUG, count: 4 }] });
    const answer = await tutor.post(`/api/boards/${board.id}/stage`, { stage: 'dry', note: 'Bone dry' });
    expect(answer.json().items.map(({ stage }: { stage: string }) => stage)).toEqual(['dry', 'dry', 'dry', 'dry']);
    for (const { id } of pieces)
      expect((await story(id)).events.at(-1)).toMatchObject({ stage: 'dry', note: 'Bone dry', boardName: board.name });
    const listed = (await tutor.get('/api/boards')).json().items;
    expect(listed).toContainEqual({ id: board.id, name: board.name, kind: 'wareBoard', pieces: 4 });
  });

  test('are refused a second time by the same name, and can say nothing of no ware', async () => {
    const board = await boardFixture(owner);
    const again = await owner.post('/api/boards', { name: board.name, kind: 'shelf' });
    expect(again.json()).toMatchObject({ type: '/problems/already-there' });
    expect((await owner.post(`/api/boards/${board.id}/stage`, { stage: 'dry' })).json().detail).toContain(
      'Nothing is on',
    );
    expect((await owner.post(`/api/boards/${randomUUID()}/stage`, { stage: 'dry' })).statusCode).toBe(404);
  });
});

describe('glazes', () => {
  test('make glazed ware of bisque, layer upon layer', async () => {
    const [moss, slip] = [await glazeFixture(owner), await materialFixture(owner, { kind: 'slip' })];
    const piece = await one({ stage: 'dry' });
    const add = (layers: object[]) => tutor.post(`/api/pieces/${piece.id}/glazes`, { layers });
    const early = await add([{ materialId: moss.id, coats: 3, foodSurface: true }]);
    expect(early.json()).toMatchObject({ type: '/problems/wrong-stage' });
    expect(await db.pieceGlaze.count({ where: { pieceId: piece.id } })).toBe(0);
    expect((await add([{ materialId: slip.id, coats: 1, foodSurface: false }])).json().stage).toBe('dry');
    const other = await one({ stage: 'bisque' });
    const layer = { materialId: moss.id, coats: 3, foodSurface: true };
    const answer = await tutor.post(`/api/pieces/${other.id}/glazes`, { layers: [layer], note: 'Brushed' });
    expect(answer.json()).toMatchObject({ stage: 'glazed', glazes: [{ ...layer, name: moss.name }] });
    expect(answer.json().events.at(-1).note).toBe(`${moss.name}, 3 coats; Brushed`);
    const more = await tutor.post(`/api/pieces/${other.id}/glazes`, {
      layers: [{ ...layer, coats: 1, foodSurface: false }],
    });
    expect(more.json().glazes).toHaveLength(2);
  });

  test('are refused on broken ware, and where the material is no glaze', async () => {
    const clay = await materialFixture(owner);
    const [moss, piece] = [await glazeFixture(owner), await one({ stage: 'bisque' })];
    const add = (materialId: string, coats = 1) =>
      owner.post(`/api/pieces/${piece.id}/glazes`, { layers: [{ materialId, coats, foodSurface: true }] });
    expect((await add(clay.id)).json().detail).toContain("can't be noted on a piece");
    expect((await add(randomUUID())).statusCode).toBe(404);
    expect((await add(moss.id, 0)).statusCode).toBe(422);
    await noted(owner, [piece], 'broken');
    expect((await add(moss.id)).json()).toMatchObject({ type: '/problems/wrong-stage' });
  });
});
