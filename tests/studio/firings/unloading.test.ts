import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { type Workshop, workshopFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture, step } from '../../support/fixtures/firings.js';
import { boardFixture, MUG, noted, piecesFixture } from '../../support/fixtures/ware.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
let maker: { id: string };
beforeAll(async () => {
  await studioFixture(owner);
  maker = await personFixture(owner);
});
const firingIn = (shop: Workshop, kind: 'bisque' | 'stoneware') =>
  firingFixture(owner, { kilnId: shop.kiln.id, scheduleId: shop[kind].id });
const ware = (count: number, changes: object = {}) =>
  piecesFixture(owner, maker.id, { ware: [{ ...MUG, count }], ...changes });
const story = async (id: string | undefined) => (await owner.get(`/api/pieces/${id}`)).json();
const STARTED = { startedAt: '2026-03-08T20:00:00Z' };
const TIMES = { endedAt: '2026-03-09T08:00:00Z', unloadedAt: '2026-03-09T20:00:00Z' };

/** Two dry mugs in a bisque firing that has begun. */
async function burning() {
  const firing = await firingIn(await workshopFixture(owner), 'bisque');
  const pieces = await ware(2, { stage: 'dry' });
  await step(owner, firing.id, 'loading', { placements: pieces.map(({ id }) => ({ pieceId: id, layer: 2 })) });
  await step(owner, firing.id, 'start', STARTED);
  return { firing, pieces, all: pieces.map(({ id }) => ({ pieceId: id, outcome: 'good' })) };
}

describe('starting', () => {
  test('takes ware off its board and into the kiln', async () => {
    const board = await boardFixture(owner);
    const pieces = await ware(1, { stage: 'dry', boardId: board.id });
    const firing = await firingIn(await workshopFixture(owner), 'bisque');
    await step(owner, firing.id, 'loading', { placements: [{ pieceId: pieces[0]?.id, layer: 4 }] });
    const started = await step(tutor, firing.id, 'start', STARTED);
    expect(started).toMatchObject({ state: 'firing', caution: expect.stringContaining('Open only when cold') });
    const after = await story(pieces[0]?.id);
    expect(after).toMatchObject({ boardId: null, stage: 'dry' });
    expect(after.events.at(-1)).toMatchObject({
      at: '2026-03-08T20:00:00.000Z',
      note: `In firing ${firing.number}, layer 4`,
    });
    expect((await owner.post(`/api/firings/${firing.id}/start`, {})).json()).toMatchObject({
      type: '/problems/wrong-state',
    });
  });

  test('judges the load once more: what broke since is to be taken out', async () => {
    const firing = await firingIn(await workshopFixture(owner), 'bisque');
    const pieces = await ware(2, { stage: 'dry' });
    await step(owner, firing.id, 'loading', { placements: pieces.map(({ id }) => ({ pieceId: id, layer: 1 })) });
    await noted(owner, pieces.slice(0, 1), 'broken');
    const answer = await owner.post(`/api/firings/${firing.id}/start`, STARTED);
    expect(answer.json()).toMatchObject({ type: '/problems/wrong-stage', pieceIds: [pieces[0]?.id] });
    expect((await owner.get(`/api/firings/${firing.id}`)).json().state).toBe('planned');
  });

  test('keeps every hand off the ware until it is out', async () => {
    const { firing, pieces } = await burning();
    const answer = await owner.post('/api/pieces/stage', { pieceIds: [pieces[0]?.id], stage: 'broken' });
    expect(answer.json()).toMatchObject({ type: '/problems/in-another-kiln' });
    expect(answer.json().detail).toContain(`is in firing ${firing.number}`);
  });
});

describe('unloading', () => {
  test('notes of each piece how it came out, and where it stands now', async () => {
    const [shop, board] = [await workshopFixture(owner), await boardFixture(owner, { kind: 'shelf' })];
    const firing = await firingIn(shop, 'bisque');
    const pieces = await ware(3, { stage: 'dry' });
    const [good, under, shards] = pieces.map(({ id }) => id);
    await step(owner, firing.id, 'loading', { placements: pieces.map(({ id }) => ({ pieceId: id, layer: 1 })) });
    await step(owner, firing.id, 'start', STARTED);
    const outcomes = [
      { pieceId: good, outcome: 'good' },
      { pieceId: under, outcome: 'refire', note: 'Still soft' },
      { pieceId: shards, outcome: 'broken' },
    ];
    const out = await step(tutor, firing.id, 'unloading', { ...TIMES, boardId: board.id, outcomes });
    expect(out).toMatchObject({ state: 'unloaded', endedAt: '2026-03-09T08:00:00.000Z', caution: null });
    expect(out.layers[0]?.pieces.map((piece) => piece.outcome)).toEqual(['good', 'refire', 'broken']);
    expect(await story(good)).toMatchObject({ stage: 'bisque', boardId: board.id });
    expect(await story(under)).toMatchObject({ stage: 'dry', boardId: board.id });
    expect(await story(shards)).toMatchObject({ stage: 'broken', boardId: null });
    expect((await story(under)).events.at(-1)).toMatchObject({
      ...{ at: '2026-03-09T20:00:00.000Z', note: `Out of firing ${firing.number}: refire; Still soft` },
    });
  });

  test('makes fired ware in a glaze firing; what must be refired waits with the glazed', async () => {
    const pieces = await ware(2, { stage: 'glazed' });
    const firing = await firingIn(await workshopFixture(owner), 'stoneware');
    await firedFixture(owner, firing.id, pieces, { [pieces[1]?.id ?? '']: 'refire' });
    expect(await story(pieces[0]?.id)).toMatchObject({ stage: 'fired' });
    expect(await story(pieces[1]?.id)).toMatchObject({ stage: 'glazed' });
    const refire = await firingIn(await workshopFixture(owner), 'stoneware');
    await firedFixture(owner, refire.id, pieces.slice(1));
    expect(await story(pieces[1]?.id)).toMatchObject({ stage: 'fired' });
  });

  test('needs an outcome for every piece, and for no other', async () => {
    const { firing, pieces, all } = await burning();
    const send = (outcomes: object[]) => owner.post(`/api/firings/${firing.id}/unloading`, { ...TIMES, outcomes });
    const missing = await send(all.slice(1));
    expect(missing.statusCode).toBe(422);
    expect(missing.json().detail).toContain(`Missing: ${pieces[0]?.code}`);
    const strange = await send([...all, { pieceId: randomUUID(), outcome: 'good' }]);
    expect(strange.json().errors[0]).toMatchObject({
      pointer: '#/outcomes',
      detail: expect.stringContaining('not in the kiln'),
    });
    expect((await owner.get(`/api/firings/${firing.id}`)).json().state).toBe('firing');
  });

  test.each([
    ['an end before its start', { endedAt: '2026-03-08T19:00:00Z' }, '#/endedAt'],
    ['an end a fortnight later', { endedAt: '2026-03-22T19:00:00Z', unloadedAt: '2026-03-10T09:00:00Z' }, '#/endedAt'],
    ['an unloading before the end', { unloadedAt: '2026-03-09T07:00:00Z' }, '#/unloadedAt'],
    ['an unloading that lies ahead', { unloadedAt: '2026-03-10T10:00:00Z' }, '#/unloadedAt'],
  ])('refuses %s', async (_, changes, pointer) => {
    const { firing, all } = await burning();
    const answer = await owner.post(`/api/firings/${firing.id}/unloading`, { ...TIMES, ...changes, outcomes: all });
    expect(answer.json()).toMatchObject({ type: '/problems/invalid-request', errors: [{ pointer }] });
  });

  test('happens once, however many record it at once, and not before a start', async () => {
    const { firing, pieces, all } = await burning();
    const answers = await Promise.all(
      Array.from({ length: 8 }, () => owner.post(`/api/firings/${firing.id}/unloading`, { ...TIMES, outcomes: all })),
    );
    expect(answers.map((answer) => answer.statusCode).sort()).toEqual([200, ...Array(7).fill(409)]);
    expect((await story(pieces[0]?.id)).events).toHaveLength(3); // taken in, in the kiln, out of it
    const planned = await firingIn(await workshopFixture(owner), 'bisque');
    const early = await owner.post(`/api/firings/${planned.id}/unloading`, { ...TIMES, outcomes: [] });
    expect(early.json()).toMatchObject({ type: '/problems/wrong-state', state: 'planned' });
  });
});

describe('a firing that fails', () => {
  test('gives its ware back for another one, and frees the kiln', async () => {
    const { firing, pieces } = await burning();
    const body = { ...TIMES, because: 'An element broke at 700 °C', brokenPieceIds: [pieces[1]?.id] };
    const strange = await owner.post(`/api/firings/${firing.id}/failure`, { ...body, brokenPieceIds: [randomUUID()] });
    expect(strange.statusCode).toBe(422);
    const failed = await step(tutor, firing.id, 'failure', body);
    expect(failed).toMatchObject({ state: 'failed', failedBecause: body.because });
    expect(await story(pieces[0]?.id)).toMatchObject({ stage: 'dry' });
    expect(await story(pieces[1]?.id)).toMatchObject({ stage: 'broken' });
    const again = await firingFixture(
      owner,
      { kilnId: firing.kilnId, scheduleId: firing.scheduleId },
      { plannedFrom: '2026-03-10T06:00:00Z', plannedTo: '2026-03-11T06:00:00Z' },
    );
    await step(owner, again.id, 'loading', { placements: [{ pieceId: pieces[0]?.id, layer: 1 }] });
    await step(owner, again.id, 'start', { startedAt: '2026-03-10T06:00:00Z' });
    expect(await db.firing.count({ where: { kilnId: firing.kilnId, state: 'firing' } })).toBe(1);
  });
});
