import { beforeEach, describe, expect, test } from 'vitest';
import type { FiringInDetail } from '../../../src/studio/firings/contract.js';
import type { Today, TodayFiring } from '../../../src/studio/reports/contract.js';
import { testApp } from '../../support/app.js';
import { workshopFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture, step } from '../../support/fixtures/firings.js';
import { tariffFixture } from '../../support/fixtures/kilns.js';
import { MUG, piecesFixture } from '../../support/fixtures/ware.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';

const { owner, tutor, clock } = await testApp();
await studioFixture(owner);
await tariffFixture(owner);
const maker = await personFixture(owner, 'Ada Finch');

const todayAt = async (instant: string, caller = owner): Promise<Today> => {
  await clock.set(instant);
  const answer = await caller.get('/api/today');
  if (answer.statusCode !== 200) throw new Error(answer.body);
  return answer.json();
};
const shownAt = async (instant: string, { id }: { id: string }, caller = owner): Promise<TodayFiring | undefined> =>
  (await todayAt(instant, caller)).firings.find(({ firingId }) => firingId === id);
const doAt = async (instant: string, firing: { id: string }) => (await shownAt(instant, firing))?.do;
/** A bisque firing in a kiln of its own, and dry mugs for it. */
async function bisqueFiring(plannedFrom: string, plannedTo: string, mugs = 2) {
  const shop = await workshopFixture(owner);
  const plan = { kilnId: shop.kiln.id, scheduleId: shop.bisque.id };
  const firing = await firingFixture(owner, plan, { plannedFrom, plannedTo });
  const pieces = await piecesFixture(owner, maker.id, { stage: 'dry', ware: [{ ...MUG, count: mugs }] });
  const load = () =>
    step(owner, firing.id, 'loading', { placements: pieces.map(({ id }, i) => ({ pieceId: id, layer: 1 + (i % 2) })) });
  return { firing, pieces, load, shop };
}

beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

describe('what a kiln asks for', () => {
  test('to be loaded, started, awaited, unloaded and settled, each in its time', async () => {
    const { firing, pieces, load } = await bisqueFiring('2026-07-08T22:00:00Z', '2026-07-09T22:00:00Z'); // 23:00 in London
    expect(await doAt('2026-07-06T22:59:00Z', firing)).toBe(undefined); // 23:59 of the day before the day before
    expect(await doAt('2026-07-06T23:01:00Z', firing)).toBe('load'); // a minute later it is for tomorrow
    expect(await doAt('2026-07-08T20:00:00Z', firing)).toBe('load'); // its day, but nothing in it
    await load();
    const cautions = async (at: string) => (await shownAt(at, firing, tutor))?.cautions.join(' ');
    expect(await cautions('2026-07-08T20:00:00Z')).toMatch(
      /^Isolate the kiln.*carbon monoxide and sulphur.*unattended/,
    );
    expect(await doAt('2026-07-07T22:59:00Z', firing)).toBe('load'); // still tomorrow
    expect(await doAt('2026-07-07T23:01:00Z', firing)).toBe('start');
    expect(await doAt('2026-07-12T09:00:00Z', firing)).toBe('start'); // overdue

    await clock.set('2026-07-09T01:00:00Z');
    await step(owner, firing.id, 'start', { startedAt: '2026-07-09T00:30:00Z' });
    expect(await shownAt('2026-07-10T00:29:59Z', firing)).toMatchObject({
      ...{ do: 'wait', from: '2026-07-09T00:30:00.000Z', to: '2026-07-10T00:30:00.000Z', coldSince: null },
    });
    // 24 hours, as planned, from its real start
    expect(await shownAt('2026-07-10T00:30:00Z', firing)).toMatchObject({
      ...{ do: 'unload', coldSince: '2026-07-10T00:30:00.000Z', pieces: 2 },
    });

    await clock.set('2026-07-10T09:00:00Z');
    await step(owner, firing.id, 'readings', { at: '2026-07-09T00:25:00Z', kwh: '10423.7' });
    await step(owner, firing.id, 'readings', { at: '2026-07-09T12:05:00Z', kwh: '10500.1' });
    await step(owner, firing.id, 'unloading', {
      ...{ endedAt: '2026-07-09T12:00:00Z', unloadedAt: '2026-07-10T08:00:00Z' },
      outcomes: pieces.map(({ id }, i) => ({ pieceId: id, outcome: i === 0 ? 'good' : 'broken' })),
    });
    expect(await shownAt('2026-07-10T09:00:00Z', firing)).toMatchObject({
      ...{ do: 'settle', from: '2026-07-09T00:30:00.000Z', to: '2026-07-10T08:00:00.000Z', coldSince: null, pieces: 2 },
    });
    expect(await shownAt('2026-07-10T09:00:00Z', firing, tutor)).toBe(undefined); // its cost is the owner's to reckon
    await step(owner, firing.id, 'settlement', {});
    expect(await doAt('2026-07-10T09:00:00Z', firing)).toBe(undefined);
  });

  test('nothing more, once it failed', async () => {
    const { firing, load } = await bisqueFiring('2026-03-10T10:00:00Z', '2026-03-11T10:00:00Z');
    await load();
    await clock.set('2026-03-10T12:00:00Z');
    await step(owner, firing.id, 'start', {});
    await clock.set('2026-03-10T14:00:00Z');
    await step(owner, firing.id, 'failure', { endedAt: '2026-03-10T13:00:00Z', because: 'Power cut' });
    expect(await doAt('2026-03-10T15:00:00Z', firing)).toBe(undefined);
  });

  test('hands first: unloading, starting, loading, waiting, settling', async () => {
    const settle = await bisqueFiring('2026-03-08T20:00:00Z', '2026-03-09T20:00:00Z');
    await firedFixture(owner, settle.firing.id, settle.pieces);
    const load = await bisqueFiring('2026-03-10T12:00:00Z', '2026-03-11T12:00:00Z');
    const start = await bisqueFiring('2026-03-10T14:00:00Z', '2026-03-11T12:00:00Z');
    await start.load();
    const begun = async (hours: number) => {
      const made = await bisqueFiring('2026-03-10T00:00:00Z', new Date(Date.UTC(2026, 2, 10, hours)).toISOString());
      await made.load();
      await step(owner, made.firing.id, 'start', { startedAt: '2026-03-10T00:00:00Z' });
      return made;
    };
    const wait = await begun(20);
    const unload = await begun(9);
    const mine = [settle, load, start, wait, unload].map(({ firing }) => firing.id);
    const { firings } = await todayAt('2026-03-10T09:00:00Z');
    expect(firings.filter(({ firingId }) => mine.includes(firingId)).map((one) => [one.do, one.firingId])).toEqual([
      ...[
        ['unload', unload.firing.id],
        ['start', start.firing.id],
        ['load', load.firing.id],
      ],
      ...[
        ['wait', wait.firing.id],
        ['settle', settle.firing.id],
      ],
    ]);
  });
});

test('the load from below, each piece as it is drawn, and how much of the kiln it fills', async () => {
  const { firing, pieces, load, shop } = await bisqueFiring('2026-03-10T20:00:00Z', '2026-03-11T20:00:00Z', 3);
  expect(await shownAt('2026-03-10T09:00:00Z', firing)).toMatchObject({ fillPercent: null, layers: [], pieces: 0 });
  await load();
  const shown = await shownAt('2026-03-12T09:00:00Z', firing);
  // three mugs of 120 * 88 * 95, dry 6.5 % larger each way: 3 * 1227306 of 500 * 500 * 600 mm³ is 2.45 %, by hand
  expect(shown).toMatchObject({
    ...{ number: firing.number, kilnId: shop.kiln.id, kind: 'bisque', pieces: 3, fillPercent: '2.5' },
    ...{ kiln: firing.kilnName, schedule: (firing as FiringInDetail).scheduleName },
  });
  expect(shown?.layers.map(({ layer, pieces }) => [layer, pieces.map(({ code }) => code)])).toEqual([
    [1, [pieces[0]?.code, pieces[2]?.code]],
    [2, [pieces[1]?.code]],
  ]);
  expect(shown?.layers[1]?.pieces[0]).toEqual({
    ...{ pieceId: pieces[1]?.id, code: pieces[1]?.code, makerId: maker.id, maker: 'Ada Finch', form: 'mug' },
    ...{ description: 'Mug with a thumb rest', widthMm: 120, heightMm: 95, depthMm: 88, glazed: false },
    ...{ since: '2026-03-10', days: 2, late: false, firingNumber: firing.number },
  });
  const { kilns } = await todayAt('2026-03-10T09:00:00Z');
  expect(kilns).toContainEqual({
    kilnId: shop.kiln.id,
    name: firing.kilnName,
    widthMm: 500,
    depthMm: 500,
    heightMm: 600,
  });
});
