import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { workshopFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture } from '../../support/fixtures/firings.js';
import { glazeFixture } from '../../support/fixtures/materials.js';
import { MUG, noted, piecesFixture } from '../../support/fixtures/ware.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';
import { faultsAfter } from '../../support/past-triggers.js';

const { db, url, owner, tutor } = await testApp();
beforeAll(() => studioFixture(owner));
const giveAway = (body: object, key?: string) => tutor.post('/api/pieces/giving-away', body, key);
const DECORATIVE = 'Decorative, not for food or drink.';

/** Two mugs, ready: one glazed as its glaze's manufacturer states, the other of nobody knows what. */
async function twoReady() {
  const maker = await personFixture(owner);
  const glaze = await glazeFixture(owner);
  const ware = await piecesFixture(owner, maker.id, { stage: 'bisque', ware: [{ ...MUG, count: 2 }] });
  const [known, unknown] = ware;
  if (!known || !unknown) throw new Error('no ware');
  const layers = [{ materialId: glaze.id, coats: 3, way: 'brushed', foodSurface: true }];
  await owner.post(`/api/pieces/${known.id}/glazes`, { layers });
  await noted(owner, [unknown], 'glazed');
  const shop = await workshopFixture(owner);
  await firedFixture(
    owner,
    (await firingFixture(owner, { kilnId: shop.kiln.id, scheduleId: shop.stoneware.id })).id,
    ware,
  );
  await noted(owner, ware, 'ready');
  return { known, unknown, glaze };
}

describe('ware that nobody collected', () => {
  test('is given away with its caution, which its story keeps', async () => {
    const { known, unknown, glaze } = await twoReady();
    const answer = await giveAway({ pieceIds: [known.id, unknown.id], to: 'the school fair', note: 'Wrapped' });
    expect(answer.statusCode).toBe(200);
    const quote = glaze.manufacturerStatement?.quote;
    const said = `The manufacturer of ${glaze.name} stated on 1 June 2025: “${quote}” These are the manufacturer’s words; we have not tested the piece.`;
    expect(answer.json().items).toEqual([
      { pieceId: known.id, code: known.code, description: MUG.description, use: 'statement', caution: said },
      { pieceId: unknown.id, code: unknown.code, description: MUG.description, use: 'decorative', caution: DECORATIVE },
    ]);
    const story = (await owner.get(`/api/pieces/${unknown.id}`)).json();
    expect(story).toMatchObject({ stage: 'givenAway', boardId: null });
    expect(story.events.at(-1)).toMatchObject({
      stage: 'givenAway',
      note: `Given to the school fair. ${DECORATIVE} Wrapped`,
    });
  });

  test('can’t be noted as given away by hand, nor written without a caution', async () => {
    const { known } = await twoReady();
    const byHand = await owner.post('/api/pieces/stage', { pieceIds: [known.id], stage: 'givenAway' });
    expect(byHand.json().detail).toContain('give it away with its caution');
    const bare = { id: randomUUID(), pieceId: known.id, at: new Date(), stage: 'givenAway' as const, note: '' };
    await expect(db.pieceEvent.create({ data: bare })).rejects.toThrow('given_away_with_its_caution');
  });

  test('is given away once by one key, and refused before it is ready, with nothing changed', async () => {
    const { known, unknown } = await twoReady();
    await noted(owner, [unknown], 'collected');
    const both = { pieceIds: [known.id, unknown.id], to: 'the fair' };
    expect((await giveAway(both)).json()).toMatchObject({ type: '/problems/wrong-stage', pieceIds: [unknown.id] });
    expect((await owner.get(`/api/pieces/${known.id}`)).json().stage).toBe('ready');
    const key = randomUUID();
    const one = { pieceIds: [known.id], to: 'the fair' };
    const same = await Promise.all([1, 2, 3].map(() => giveAway(one, key)));
    expect(new Set(same.map(({ body }) => body)).size).toBe(1);
    expect(await db.pieceEvent.count({ where: { pieceId: known.id, stage: 'givenAway' } })).toBe(1);
    await expect(db.piece.update({ where: { id: unknown.id }, data: { stage: 'givenAway' } })).rejects.toThrow(
      "can't become givenAway from collected",
    );
    const faults = await faultsAfter(
      url,
      `UPDATE piece SET stage = 'givenAway' WHERE id = '${unknown.id}'; INSERT INTO piece_event VALUES (gen_random_uuid(), '${unknown.id}', now(), 'givenAway', NULL, 'x')`,
    );
    expect(faults).toContain('only what is ready is given away');
  });
});
