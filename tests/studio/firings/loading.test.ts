import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { sqlState } from '../../../src/database/sqlstate.js';
import { testApp } from '../../support/app.js';
import { type Workshop, workshopFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture, step } from '../../support/fixtures/firings.js';
import { scheduleFixture } from '../../support/fixtures/kilns.js';
import { glazeFixture, materialFixture } from '../../support/fixtures/materials.js';
import { MUG, noted, piecesFixture } from '../../support/fixtures/ware.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
let maker: { id: string };
let shop: Workshop;
beforeAll(async () => {
  await studioFixture(owner);
  maker = await personFixture(owner);
  shop = await workshopFixture(owner);
});

/** A firing of a kind in a kiln of its own, so that no test waits for another's. */
async function firingOf(kind: 'bisque' | 'stoneware' | 'earthenware') {
  const own = await workshopFixture(owner);
  return firingFixture(owner, { kilnId: own.kiln.id, scheduleId: shop[kind].id });
}
const one = async (changes: Record<string, unknown> = {}) => {
  const [piece] = await piecesFixture(owner, maker.id, changes);
  if (!piece) throw new Error('no piece');
  return piece;
};
const load = (firingId: string, pieces: readonly { id: string }[], rest: object = {}) =>
  tutor.post(`/api/firings/${firingId}/loading`, {
    placements: pieces.map(({ id }) => ({ pieceId: id, layer: 1, ...rest })),
  });

describe('loading', () => {
  test('shows what stands in the kiln, layer by layer from below, and can be done anew', async () => {
    const firing = await firingOf('bisque');
    const [low, high, out] = [await one({ stage: 'dry' }), await one({ stage: 'dry' }), await one({ stage: 'dry' })];
    await load(firing.id, [out]);
    const placements = [
      { pieceId: high.id, layer: 3 },
      { pieceId: low.id, layer: 1 },
    ];
    const loaded = await step(tutor, firing.id, 'loading', { placements });
    expect(loaded.pieces).toBe(2);
    expect(loaded.layers).toMatchObject([
      {
        layer: 1,
        pieces: [{ pieceId: low.id, code: low.code, makerName: expect.any(String), form: 'mug', outcome: null }],
      },
      { layer: 3, pieces: [{ pieceId: high.id, studioPays: false }] },
    ]);
    const other = await firingOf('bisque');
    expect((await load(other.id, [out])).statusCode).toBe(200); // taken out, it may go elsewhere
  });

  test.each([
    ['bisque', 'greenware'],
    ['bisque', 'bisque'],
    ['bisque', 'glazed'],
    ['stoneware', 'dry'],
    ['stoneware', 'bisque'],
  ] as const)('a %s firing does not take what is %s, and says which piece', async (kind, stage) => {
    const [firing, wrong, right] = [
      await firingOf(kind),
      await one({ stage }),
      await one({ stage: kind === 'bisque' ? 'dry' : 'glazed' }),
    ];
    const answer = await load(firing.id, [right, wrong]);
    expect(answer.json()).toMatchObject({ type: '/problems/wrong-stage', pieceIds: [wrong.id] });
    expect(answer.json().detail).toContain(`${wrong.code} (${stage})`);
    expect(await db.placement.count({ where: { firingId: firing.id } })).toBe(0);
  });

  test('a piece goes into no firing outside the range of its body or its glaze', async () => {
    const soft = await materialFixture(owner, { name: 'Red earthenware', firingRange: { fromC: 1020, toC: 1120 } });
    const melting = await one({ stage: 'glazed', ware: [{ ...MUG, clayId: soft.id }] });
    const hot = await load((await firingOf('stoneware')).id, [melting]);
    expect(hot.json()).toMatchObject({ type: '/problems/outside-range', pieceId: melting.id });
    expect(hot.json().detail).toContain(`${melting.code} can't go in: Red earthenware fires at 1020 to 1120 °C`);

    const raw = await one({ stage: 'bisque', ware: [{ ...MUG, clayId: shop.clay.id }] });
    await owner.post(`/api/pieces/${raw.id}/glazes`, {
      layers: [{ materialId: shop.glaze.id, coats: 2, foodSurface: true }],
    });
    const cool = await load((await firingOf('earthenware')).id, [raw]);
    expect(cool.json()).toMatchObject({ type: '/problems/outside-range', pieceId: raw.id });
    expect((await load((await firingOf('stoneware')).id, [raw])).statusCode).toBe(200);

    const [low, piece] = [
      await glazeFixture(owner, { firingRange: { fromC: 1000, toC: 1100 } }),
      await one({ stage: 'bisque' }),
    ];
    await owner.post(`/api/pieces/${piece.id}/glazes`, {
      layers: [{ materialId: low.id, coats: 2, foodSurface: true }],
    });
    expect((await load((await firingOf('stoneware')).id, [piece])).json().detail).toContain(low.name);
    const dry = await one({ stage: 'dry', ware: [{ ...MUG, clayId: shop.clay.id }] });
    expect((await load((await firingOf('bisque')).id, [dry])).statusCode).toBe(200); // below its range on purpose
  });

  test('puts a piece into one kiln, however many ask at once', async () => {
    const piece = await one({ stage: 'dry' });
    const firings = [];
    for (let i = 0; i < 8; i++) firings.push(await firingOf('bisque'));
    const answers = await Promise.all(firings.map(({ id }) => load(id, [piece])));
    expect(answers.map((answer) => answer.statusCode).sort()).toEqual([200, ...Array(7).fill(409)]);
    // each is told where the piece stands: they were judged one after the other, none left to the database
    for (const refused of answers.filter((answer) => answer.statusCode === 409)) {
      expect(refused.json()).toMatchObject({ type: '/problems/in-another-kiln', pieceId: piece.id });
      expect(refused.json().detail).toContain(`${piece.code} is already in firing`);
    }
  });

  test('refuses pieces that are not there, a piece named twice, and a kiln of thirty-one layers', async () => {
    const [firing, piece] = [await firingOf('bisque'), await one({ stage: 'dry' })];
    expect((await load(firing.id, [{ id: randomUUID() }])).statusCode).toBe(404);
    expect((await load(firing.id, [piece, piece])).statusCode).toBe(422);
    expect((await load(firing.id, [piece], { layer: 31 })).statusCode).toBe(422);
    expect((await load(randomUUID(), [piece])).statusCode).toBe(404);
    await step(owner, firing.id, 'start', { startedAt: '2026-03-08T20:00:00Z' });
    expect((await load(firing.id, [piece])).json()).toMatchObject({ type: '/problems/wrong-state', state: 'firing' });
  });
});

describe('refires and lustre', () => {
  test('take fired ware; lustred ware goes no hotter without a reason', async () => {
    const lustre = await scheduleFixture(owner, {
      ...{ name: 'Lustre', kind: 'lustre', cone: null },
      segments: [{ ratePerHourC: 100, targetC: 750, holdMinutes: 10 }],
    });
    const piece = await one({ stage: 'glazed' });
    await firedFixture(owner, (await firingOf('stoneware')).id, [piece]);
    const own = await workshopFixture(owner);
    const third = await firingFixture(owner, { kilnId: own.kiln.id, scheduleId: lustre.id });
    expect((await load(third.id, [await one({ stage: 'glazed' })])).json()).toMatchObject({
      type: '/problems/wrong-stage',
    });
    await firedFixture(owner, third.id, [piece]);
    const again = await firingOf('stoneware');
    const refused = await load(again.id, [piece]);
    expect(refused.json()).toMatchObject({ type: '/problems/outside-range', pieceId: piece.id });
    expect(refused.json().detail).toContain('has lustre on it');
    expect((await load(again.id, [piece], { hotterBecause: 'The lustre is to come off' })).statusCode).toBe(200);
  });
});

describe('ware that is glazed again', () => {
  const add = async (pieceId: string, materialId: string) =>
    (
      await owner.post(`/api/pieces/${pieceId}/glazes`, { layers: [{ materialId, coats: 1, foodSurface: true }] })
    ).json().stage;

  test('waits for the fire with the glazed: nobody calls raw glaze ready', async () => {
    const [moss, piece] = [await glazeFixture(owner), await one({ stage: 'glazed' })];
    await firedFixture(owner, (await firingOf('stoneware')).id, [piece]);
    await noted(owner, [piece], 'ready');
    expect(await add(piece.id, moss.id)).toBe('glazed');
    const early = await owner.post('/api/pieces/stage', { pieceIds: [piece.id], stage: 'ready' });
    expect(early.json()).toMatchObject({ type: '/problems/wrong-stage' });
    expect((await load((await firingOf('stoneware')).id, [piece])).statusCode).toBe(200);
  });

  test('stays fired under a lustre, and is no longer ready', async () => {
    const gold = await glazeFixture(owner, { name: 'Sun lustre', firingRange: { fromC: 720, toC: 790 } });
    const piece = await one({ stage: 'glazed' });
    await firedFixture(owner, (await firingOf('stoneware')).id, [piece]);
    await noted(owner, [piece], 'ready');
    expect(await add(piece.id, gold.id)).toBe('fired');
  });
});

describe('the second wall, in the database', () => {
  const stateOf = (work: Promise<unknown>) => work.then(() => 'kept', sqlState);

  test('keeps ware out of firings that do not take it, and in no two kilns', async () => {
    const [glaze, bisque] = [await firingOf('stoneware'), await firingOf('bisque')];
    const other = await firingOf('bisque');
    const piece = await one({ stage: 'dry' });
    const put = (firingId: string) =>
      db.placement.create({ data: { firingId, pieceId: piece.id, layer: 1, studioPays: false } });
    expect(await stateOf(put(glaze.id))).toBe('WB007');
    expect(await stateOf(put(bisque.id))).toBe('kept');
    expect(await stateOf(put(other.id))).toBe('WB007');
  });

  test('keeps the stage of what is in the fire, and one load in a kiln', async () => {
    const [firing, piece] = [await firingOf('bisque'), await one({ stage: 'dry' })];
    await load(firing.id, [piece]);
    await step(owner, firing.id, 'start', { startedAt: '2026-03-08T20:00:00Z' });
    expect(await stateOf(db.piece.update({ where: { id: piece.id }, data: { stage: 'broken' } }))).toBe('WB007');
    const {
      id: _,
      number,
      pieces: __,
      ...rest
    } = await db.firing.findUniqueOrThrow({ where: { id: firing.id } }).then((row) => ({ ...row, pieces: 0 }));
    const twin = db.firing.create({ data: { ...rest, id: randomUUID(), number: number + 1000 } });
    expect(await stateOf(twin)).toBe('23P01');
  });
});
