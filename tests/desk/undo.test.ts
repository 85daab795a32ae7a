import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { made, studioFixture } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, sessionOf } from './browser.js';

// What is removed on the desk comes back with all that the API knew of it: docs/decisions/041.

const { app, owner } = await testApp();
const { base, open } = await browse(app);
let page: Page;

beforeAll(async () => {
  await studioFixture(owner);
  page = await open('/health', { storageState: await sessionOf(open) });
});

type Item = { id: string; name: string };
const TIERS = [
  { daysBefore: 21, refundPercent: '100' },
  { daysBefore: 3, refundPercent: '12.5' },
];
const BANDS = [
  { fromMinute: 0, toMinute: 420, perKwhMinor: '9.875' },
  { fromMinute: 420, toMinute: 1440, perKwhMinor: '31' },
];
const SEGMENTS = [
  { ratePerHourC: 55, targetC: 130, holdMinutes: 45 },
  { ratePerHourC: 140, targetC: 1015, holdMinutes: 0 },
];
const KILN = { shape: 'round', widthMm: 455, depthMm: 455, heightMm: 610, ratedKw: '7.25', fillPercent: '62.5' };
const KINDS: [one: string, api: string, path: string, body: object][] = [
  ['room', '/api/rooms', '/studio/rooms', { name: 'Loft', benches: 3 }],
  ['VAT rate', '/api/tax-rates', '/studio/terms', { name: 'Reduced', kind: 'standard', percent: '5.5' }],
  ['VAT rate', '/api/tax-rates', '/studio/terms', { name: 'Tuition', kind: 'exempt', percent: null }],
  ['refund policy', '/api/refund-policies', '/studio/terms', { name: 'Loose', refilledFeeMinor: 725, tiers: TIERS }],
  ['tariff', '/api/tariffs', '/studio/tariffs', { name: 'Night', validFrom: '2027-02-28', bands: BANDS }],
  [
    ...(['kiln', '/api/kilns', '/kilns/equipment'] as const),
    { ...KILN, name: 'Old round', coolingHours: 19, wearMinor: { bisque: 210, glaze: 335, lustre: 150 } },
  ],
  [
    ...(['firing schedule', '/api/schedules', '/kilns/equipment'] as const),
    { name: 'Slow bisque', kind: 'bisque', cone: '04', segments: SEGMENTS },
  ],
  ['place for ware', '/api/boards', '/kilns/equipment', { name: 'Board 9', kind: 'dampCupboard' }],
  [
    ...(['supplier', '/api/suppliers', '/shelf/suppliers'] as const),
    {
      ...{ name: 'Ostlemere Clay', email: 'orders@ostlemere.example', addressLines: ['1 Kiln Row', 'Ostlemere'] },
      ...{ leadTimeDays: 9, carriageMinor: 1250, freeFromMinor: 20_000 },
    },
  ],
];

const said = () => page.locator('.toast');
const undo = () => said().getByRole('button', { name: 'Undo' });
const called = async (api: string, name: string): Promise<Item[]> =>
  (await owner.get(`${api}?limit=200`)).json().items.filter((item: Item) => item.name === name);
const known = async (api: string, id: string) => ({ ...(await owner.get(`${api}/${id}`)).json(), id: '' });

async function remove(one: string, path: string, { id, name }: Item): Promise<void> {
  await page.goto(`${base}${path}?change=${id}`);
  await page.getByRole('button', { name: `Remove this ${one}`, exact: true }).click();
  await said().getByText(`“${name}” is removed.`).waitFor();
}

describe('what is removed on the desk', () => {
  test.each(KINDS)('comes back whole: %s %s', async (one, api, path, body) => {
    const { id, name } = await made<Item>(owner, api, body);
    const before = await known(api, id);
    await remove(one, path, { id, name });
    expect(await called(api, name)).toEqual([]);
    await undo().dblclick();
    await said().getByText(`“${name}” is back.`).waitFor();
    const [back, ...others] = await called(api, name);
    expect(others).toEqual([]); // a double click undoes once
    expect(back?.id).not.toBe(id);
    expect(await known(api, back?.id ?? '')).toEqual(before);
    await page.getByRole('button', { name: `Change ${name}` }).waitFor();
    expect(await undo().count()).toBe(0);
  });

  test('comes back as the assumption that it was', async () => {
    const room = await made<Item>(owner, '/api/rooms', { name: 'Cellar', benches: 8 });
    const figures = ['Places to work: 8'];
    await owner.post('/api/assumptions', { kind: 'room', subjectId: room.id, figures });
    const notes = async () => (await owner.get('/api/assumptions')).json().items;
    await remove('room', '/studio/rooms', room);
    expect(await notes()).toEqual([]);
    await undo().click();
    await said().getByText('“Cellar” is back.').waitFor();
    const [back] = await called('/api/rooms', 'Cellar');
    expect(await notes()).toMatchObject([{ kind: 'room', subjectId: back?.id, figures }]);
  });

  test('says why it can’t come back, and can be tried again', async () => {
    const room = await made<Item>(owner, '/api/rooms', { name: 'Annexe', benches: 2 });
    await remove('room', '/studio/rooms', room);
    const other = await made<Item>(owner, '/api/rooms', { name: 'Annexe', benches: 5 });
    await undo().click();
    expect(await said().getByRole('alert').textContent()).toContain('There is one like it already.');
    await page.setViewportSize({ width: 360, height: 740 });
    await expectFits(page);
    expect(await faultsOf(page)).toEqual([]);
    await page.setViewportSize({ width: 1280, height: 900 });
    await owner.put(`/api/rooms/${other.id}`, { name: 'Barn', benches: 5 });
    await undo().click();
    await said().getByText('“Annexe” is back.').waitFor();
    expect(
      await said()
        .getByRole('button')
        .evaluate((e) => e === document.activeElement),
    ).toBe(true);
    expect(await called('/api/rooms', 'Annexe')).toMatchObject([{ benches: 2 }]);
  });

  test('is gone for good once the page is left', async () => {
    const room = await made<Item>(owner, '/api/rooms', { name: 'Shed', benches: 1 });
    await remove('room', '/studio/rooms', room);
    await page.getByRole('link', { name: 'Electricity' }).click();
    await said().waitFor({ state: 'detached' });
    expect(await called('/api/rooms', 'Shed')).toEqual([]);
  });
});
