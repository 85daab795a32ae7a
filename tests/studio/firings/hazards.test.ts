import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { workshopFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture, step } from '../../support/fixtures/firings.js';
import { scheduleFixture } from '../../support/fixtures/kilns.js';
import { glazeFixture, materialFixture } from '../../support/fixtures/materials.js';
import { MUG, piecesFixture } from '../../support/fixtures/ware.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';

// What has to be said is what HSE's Ceramics Information Sheet 3, "Safe use of electric kilns in craft and education", names: shock,
// burns, fire, fumes during some firings, manual handling. That lustre is flammable and gives off solvent is common practice.
const { owner, tutor } = await testApp();
let maker: { id: string };
beforeAll(async () => {
  await studioFixture(owner);
  maker = await personFixture(owner);
});
const DRY = {
  ...{ unit: 'g', packQuantity: 250, waterPercent: null, firingRange: null },
  ...{ dryingShrinkagePercent: null, firingShrinkagePercent: null },
};
const layer = (materialId: string) => ({ materialId, coats: 1, foodSurface: false });
const firingOf = async (scheduleId?: string) => {
  const shop = await workshopFixture(owner);
  return (await firingFixture(owner, { kilnId: shop.kiln.id, scheduleId: scheduleId ?? shop.stoneware.id })).id;
};
const load = (firingId: string, pieces: readonly { id: string }[]) =>
  step(tutor, firingId, 'loading', { placements: pieces.map(({ id }) => ({ pieceId: id, layer: 1 })) });

describe('a firing', () => {
  test('says what to mind at the kiln: before it fires, until it is empty, and after it failed', async () => {
    const id = await firingOf();
    const pieces = await piecesFixture(owner, maker.id, { stage: 'glazed' });
    const { caution } = await load(id, pieces);
    for (const words of [/^Isolate the kiln at its switch before you load/, /touch an element/, /shelves are heavy/])
      expect(caution).toMatch(words);
    expect(caution).toMatch(/Ventilate the kiln room to the outside.*carbon monoxide and sulphur fumes/);
    const started = await step(tutor, id, 'start', { startedAt: '2026-03-08T20:00:00Z' });
    expect(started.caution).toMatch(
      /^Open only when cold.*carbon monoxide.*Isolate the kiln.*gloves and eye protection/,
    );
    const times = { endedAt: '2026-03-09T08:00:00Z', unloadedAt: '2026-03-09T20:00:00Z' };
    const failed = await step(tutor, id, 'failure', { ...times, because: 'An element broke' });
    expect(failed.caution).toContain('a qualified electrician');
  });

  test('names what lies on its ware and needs care, each once, by its data sheet', async () => {
    const warning = { text: 'Toxic if swallowed.', statedOn: '2025-05-03' };
    const oxide = await materialFixture(owner, { ...DRY, kind: 'oxide', hazardNote: warning });
    const [glass, moss] = [await materialFixture(owner, { ...DRY, kind: 'glass' }), await glazeFixture(owner)];
    const pieces = await piecesFixture(owner, maker.id, { stage: 'bisque', ware: [{ ...MUG, count: 2 }] });
    for (const { id } of pieces)
      await owner.post(`/api/pieces/${id}/glazes`, { layers: [oxide, glass, moss].map((one) => layer(one.id)) });
    const id = await firingOf();
    expect((await step(tutor, id, 'loading', { placements: [] })).hazards).toEqual([]);
    expect((await load(id, pieces)).hazards).toEqual([
      `${oxide.name} – May be toxic: wear gloves, breathe no dust or spray, no food or drink near it. Toxic if swallowed (data sheet dated 3 May 2025).`,
      expect.stringMatching(new RegExp(`^${glass.name} – Edges cut.*fumes in the kiln: ventilate the room`)),
      'The suppliers’ safety data sheets take precedence.',
    ]);
    await tutor.post('/api/pieces/washing-off', { pieceIds: pieces.map((piece) => piece.id) });
    expect((await tutor.get(`/api/firings/${id}`)).json().hazards).toEqual([]);
  });

  test('of lustre says that it burns and gives off solvent, also where nobody noted which', async () => {
    const lustre = await materialFixture(owner, { ...DRY, kind: 'lustre' });
    const pieces = await piecesFixture(owner, maker.id, { stage: 'glazed', ware: [{ ...MUG, count: 2 }] });
    await firedFixture(owner, await firingOf(), pieces);
    await owner.post(`/api/pieces/${pieces[0]?.id}/glazes`, { layers: [layer(lustre.id)] });
    const schedule = await scheduleFixture(owner, {
      ...{ kind: 'lustre', cone: null },
      segments: [{ ratePerHourC: 100, targetC: 750, holdMinutes: 10 }],
    });
    const id = await firingOf(schedule.id);
    const said = async (ware: readonly { id: string }[]) => (await load(id, ware)).hazards[0];
    const words =
      / – Flammable, and gives off solvent vapour, also in the kiln: ventilate .* no flames or sparks, wear gloves\.$/;
    expect(await said(pieces)).toMatch(words);
    expect(await said(pieces)).toContain(lustre.name);
    expect(await said(pieces.slice(1))).toMatch(words);
  });

  test('of raw ware that is fired once says that it must be dry and go slowly', async () => {
    const [moss, raw] = [await glazeFixture(owner), await piecesFixture(owner, maker.id, { stage: 'dry' })];
    const layers = [layer(moss.id)];
    await owner.post(`/api/pieces/${raw[0]?.id}/glazes`, { layers, singleFiring: true });
    expect((await load(await firingOf(), raw)).hazards[0]).toContain('must be bone dry');
    const bisqued = await piecesFixture(owner, maker.id, { stage: 'bisque' });
    await owner.post(`/api/pieces/${bisqued[0]?.id}/glazes`, { layers });
    expect((await load(await firingOf(), bisqued)).hazards).toEqual([]);
  });
});
