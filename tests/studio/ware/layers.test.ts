import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { workshopFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture, step } from '../../support/fixtures/firings.js';
import { glazeFixture, materialFixture } from '../../support/fixtures/materials.js';
import { noted, piecesFixture } from '../../support/fixtures/ware.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';
import { faultsAfter } from '../../support/past-triggers.js';

const { db, url, owner, tutor } = await testApp();
let maker: { id: string };
let shop: Awaited<ReturnType<typeof workshopFixture>>;
let moss: { id: string; name: string };
beforeAll(async () => {
  await studioFixture(owner);
  maker = await personFixture(owner);
  shop = await workshopFixture(owner);
  moss = await glazeFixture(owner);
});
const DRY = {
  ...{ unit: 'g', packQuantity: 250, waterPercent: null, firingRange: null },
  ...{ dryingShrinkagePercent: null, firingShrinkagePercent: null },
};
const materialOf = (kind: string) => materialFixture(owner, { ...DRY, kind });
const one = async (stage: string) => {
  const [piece] = await piecesFixture(owner, maker.id, { stage });
  if (!piece) throw new Error('no piece');
  return piece;
};
const layer = (materialId: string) => ({ materialId, coats: 1, way: 'brushed', foodSurface: true });
const put = (pieceId: string, materialIds: string[], more: object = {}) =>
  tutor.post(`/api/pieces/${pieceId}/glazes`, { layers: materialIds.map(layer), ...more });
const story = async (id: string) => (await owner.get(`/api/pieces/${id}`)).json();
const firingOf = async (kind: 'bisque' | 'stoneware') => {
  const { kiln } = await workshopFixture(owner);
  return (await firingFixture(owner, { kilnId: kiln.id, scheduleId: shop[kind].id })).id;
};
const washOff = (pieceIds: string[], more: object = {}) => tutor.post('/api/pieces/washing-off', { pieceIds, ...more });

describe('what is put on ware', () => {
  test.each(['underglaze', 'oxide', 'stain', 'slip', 'wax', 'glass'])('%s is noted before the glaze', async (kind) => {
    const [colour, piece] = [await materialOf(kind), await one('bisque')];
    expect((await put(piece.id, [colour.id])).json()).toMatchObject({
      stage: 'bisque',
      glazes: [{ materialId: colour.id, kind, coats: 1, way: 'brushed', foodSurface: true, washedOffAt: null }],
    });
    expect((await put(piece.id, [moss.id])).json()).toMatchObject({ stage: 'glazed', glazes: [{ kind }, {}] });
  });

  test('colour goes on raw clay too, and lustre only on glaze that was fired', async () => {
    const [colour, lustre] = [await materialOf('underglaze'), await materialOf('lustre')];
    const raw = await one('greenware');
    expect((await put(raw.id, [colour.id])).json().stage).toBe('greenware');
    const glazed = await one('glazed');
    const early = await put(glazed.id, [lustre.id]);
    expect(early.json()).toMatchObject({ type: '/problems/wrong-stage' });
    expect(early.json().detail).toContain(`${lustre.name} is a lustre and goes on glaze that was fired`);
    await firedFixture(owner, await firingOf('stoneware'), [glazed]);
    expect((await put(glazed.id, [lustre.id])).json().stage).toBe('fired');
    const ready = await owner.post('/api/pieces/stage', { pieceIds: [glazed.id], stage: 'ready' });
    expect(ready.json()).toMatchObject({ type: '/problems/wrong-stage', pieceIds: [glazed.id] });
    await expect(db.piece.update({ where: { id: glazed.id }, data: { stage: 'ready' } })).rejects.toThrow('not fired');
    expect(await faultsAfter(url, `UPDATE piece SET stage = 'ready' WHERE id = '${glazed.id}'`)).toContain(
      `nothing raw leaves the studio: piece ${glazed.code}`,
    );
  });

  test.each(['clay', 'rawMaterial', 'frit', 'kilnWash', 'consumable', 'packaging'])('%s is no layer', async (kind) => {
    const [stuff, piece] = [await materialOf(kind), await one('bisque')];
    const answer = await put(piece.id, [stuff.id]);
    expect(answer.statusCode).toBe(422);
    expect(answer.json().detail).toContain("can't be noted on a piece");
  });
});

describe('glaze that is washed off', () => {
  test('leaves bisque, and a layer that is kept as ended', async () => {
    const [oxide, piece] = [await materialOf('oxide'), await one('bisque')];
    await put(piece.id, [oxide.id, moss.id]);
    const answer = await washOff([piece.id], { note: 'Too thick' });
    expect(answer.json().items).toMatchObject([{ id: piece.id, stage: 'bisque' }]);
    const after = await story(piece.id);
    expect(after.glazes.map((one: { washedOffAt: string }) => one.washedOffAt)).toEqual(
      Array(2).fill('2026-03-10T09:00:00.000Z'),
    );
    expect(after.events.at(-1)).toMatchObject({ stage: 'bisque', note: 'Glaze washed off; Too thick' });
    expect((await put(piece.id, [moss.id])).json().glazes).toMatchObject([{}, {}, { washedOffAt: null }]);
    const rows = { pieceId_ordinal: { pieceId: piece.id, ordinal: 3 } };
    await expect(db.pieceGlaze.delete({ where: rows })).rejects.toThrow('washing it off');
    await expect(db.pieceGlaze.update({ where: rows, data: { coats: 9 } })).rejects.toThrow('washing it off');
  });

  test('leaves colour that the bisque has fixed, and takes a second glaze off fired ware', async () => {
    const [colour, piece] = [await materialOf('underglaze'), await one('dry')];
    await put(piece.id, [colour.id]);
    await firedFixture(owner, await firingOf('bisque'), [piece]);
    await put(piece.id, [moss.id]);
    const ended = async () => (await story(piece.id)).glazes.map((one: { washedOffAt: unknown }) => !!one.washedOffAt);
    await washOff([piece.id]);
    expect(await ended()).toEqual([false, true]);
    await put(piece.id, [moss.id]);
    await firedFixture(owner, await firingOf('stoneware'), [piece]);
    expect((await washOff([piece.id])).json().detail).toContain('has no raw glaze to wash off');
    expect((await put(piece.id, [moss.id])).json().stage).toBe('glazed');
    expect((await washOff([piece.id])).json().items).toMatchObject([{ stage: 'fired' }]);
    expect(await ended()).toEqual([false, true, false, true]);
    const fixed = { pieceId_ordinal: { pieceId: piece.id, ordinal: 3 } };
    await expect(db.pieceGlaze.update({ where: fixed, data: { washedOffAt: new Date() } })).rejects.toThrow('fired');
  });

  test('is refused where nothing raw lies on the ware, and where it is raw itself, with nothing changed', async () => {
    const [bare, raw, good] = [await one('bisque'), await one('dry'), await one('bisque')];
    await put(good.id, [moss.id]);
    expect((await washOff([good.id, bare.id])).json()).toMatchObject({
      ...{ type: '/problems/wrong-stage', pieceIds: [bare.id] },
    });
    expect((await story(good.id)).stage).toBe('glazed');
    await put(raw.id, [moss.id], { singleFiring: true });
    expect((await washOff([raw.id])).json().detail).toContain('water would take the clay with the glaze');
  });
});

describe('raw ware glazed for a single firing', () => {
  test.each(['greenware', 'dry'])('%s goes into a glaze firing without a bisque', async (stage) => {
    const piece = await one(stage);
    const early = await put(piece.id, [moss.id]);
    expect(early.json().detail).toContain('glaze goes on bisque');
    expect((await put(piece.id, [moss.id], { singleFiring: true })).json().stage).toBe('glazed');
    await firedFixture(owner, await firingOf('stoneware'), [piece]);
    expect((await story(piece.id)).stage).toBe('fired');
  });

  test('is said of raw ware alone', async () => {
    const piece = await one('bisque');
    expect((await put(piece.id, [moss.id], { singleFiring: true })).json().detail).toContain('None of this is raw');
  });
});

describe('clay that is reclaimed', () => {
  test('goes back before it is bisqued, off its board and out of the count', async () => {
    const [wet, dry] = [await one('greenware'), await one('dry')];
    await noted(tutor, [wet, dry], 'reclaimed');
    expect(await story(wet.id)).toMatchObject({ stage: 'reclaimed', boardId: null });
    const again = await owner.post('/api/pieces/stage', { pieceIds: [dry.id], stage: 'broken' });
    expect(again.json().detail).toContain('is reclaimed and can only become nothing else any more');
    const load = { placements: [{ pieceId: dry.id, layer: 1 }] };
    await expect(step(owner, await firingOf('bisque'), 'loading', load)).rejects.toThrow('wrong-stage');
  });

  test.each(['bisque', 'glazed'])('is refused of %s ware, by hand and in the database', async (stage) => {
    const piece = await one(stage);
    const answer = await owner.post('/api/pieces/stage', { pieceIds: [piece.id], stage: 'reclaimed' });
    expect(answer.json().detail).toContain('only clay that was never fired or glazed can be reclaimed');
    await expect(db.piece.update({ where: { id: piece.id }, data: { stage: 'reclaimed' } })).rejects.toThrow(
      `can't become reclaimed from ${stage}`,
    );
  });
});
