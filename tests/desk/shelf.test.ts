import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import type { OutlookItem } from '../../src/studio/stock-outlook/contract.js';
import { testApp } from '../support/app.js';
import { bookingFixture } from '../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../support/fixtures/courses.js';
import { soldBy, supplierFixture } from '../support/fixtures/suppliers.js';
import { made } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';

const { app, owner } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

/** Two courses of four evenings, of which the second still has most places free; clay for one and a half of them. */
beforeAll(async () => {
  home = await coursesFixture(owner);
  const body = planBody(home);
  const [making, glazing] = body.sessions;
  const sponges = await made(owner, '/api/materials', {
    ...{ name: 'Sponges', kind: 'consumable', unit: 'piece', packQuantity: 5, leadTimeDays: 2 },
  });
  const plan = await made(owner, '/api/course-plans', {
    ...body,
    materials: [{ materialId: sponges.id, perStudent: 1 }],
    sessions: [making, making, making, glazing],
  });
  const evenings = (days: string[]) =>
    days.map((day) => ({ startsAt: `${day}T18:00:00Z`, endsAt: `${day}T20:00:00Z`, roomId: home.room.id }));
  const course = (title: string, days: string[]) =>
    made(owner, '/api/courses', { ...home.body, planId: plan.id, title, sessions: evenings(days) });
  const spring = await course('Spring mugs', ['2026-03-24', '2026-03-31', '2026-04-07', '2026-04-28']);
  const summer = await course('Summer mugs', ['2026-05-12', '2026-05-19', '2026-05-26', '2026-06-16']);
  await bookingFixture(owner, spring.id, 7);
  await bookingFixture(owner, summer.id, 2);
  const lot = (id: string, quantity: number) =>
    made(owner, `/api/materials/${id}/lots`, {
      ...{ supplier: 'Ostlemere Clays', receivedOn: '2026-03-02', quantity, costMinor: 9000 },
    });
  await lot(home.clay.id, 12_500);
  await lot(home.glaze.id, 10_000);
  await lot(sponges.id, 3);
  await owner.post(`/api/materials/${sponges.id}/draws`, { quantity: 4, note: 'The floor' });
  session = await sessionOf(open);
});

async function shelf(options: BrowserContextOptions = {}): Promise<Page> {
  const page = await open('/shelf', { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  return page;
}
const items = async (): Promise<OutlookItem[]> => (await owner.get('/api/outlook')).json().items;
const clay = async () => (await items()).find(({ materialId }) => materialId === home.clay.id) as OutlookItem;

describe('the answer', () => {
  test('says what to order by when, and why, the most urgent first, and what to count', async () => {
    const page = await shelf();
    const said = (await page.locator('.answer').textContent())?.replaceAll('\u00a0', ' ') ?? '';
    expect(said).toMatch(
      /^Order 15 of Sponges, three packs, by Saturday,? 21 March; it will run out by 24 March on current bookings\./,
    );
    expect(said).toContain(`Order 10 kg of ${home.clay.name}, one pack, by`);
    const { rows, shortOn } = await clay();
    const likely = rows.find(({ day }) => day === shortOn.oneInTwo)?.shortChance ?? 0;
    expect(said).toContain(`; ${Math.round(Number(likely) * 100)}% chance of running out by`);
    expect(said).toMatch(/Count Sponges first: the recorded stock can’t be right\.$/);
    const heads = await page.getByRole('heading', { level: 2 }).allTextContents();
    expect(heads.map((head) => head.split(' ')[0])).toEqual(['Sponges', 'Grey', 'Moss']);
    expect(heads[2]).toContain('enough');
    await page.context().close();
  });
});

describe('the drawing of a material', () => {
  test('stands on the plank until it runs short, and hangs beneath it after', async () => {
    const page = await shelf();
    const section = page.locator(`#material-${home.clay.id}`);
    const drawing = section.getByRole('img');
    const plank = (await section.locator('.stock .plank').boundingBox())?.y ?? 0;
    const expected = await section.locator('.stock path.expected').boundingBox();
    expect(expected?.y).toBeLessThan(plank - 50); // full at first
    const missing = await section.locator('.stock path.missing').boundingBox();
    expect(missing?.y).toBeGreaterThan(plank - 4);
    expect(missing?.height).toBeGreaterThan(10);
    // to scale: what is missing at worst against what is on the shelf
    const { onHand, rows } = await clay();
    const worst = -(rows.at(-1)?.leftAtWorst ?? 0);
    expect(worst).toBeGreaterThan(0);
    const likely = await section.locator('.stock path.likely').boundingBox();
    expect((missing?.height ?? 0) / (likely?.height ?? 1)).toBeCloseTo(worst / onHand, 1);
    expect(await drawing.getAttribute('aria-label')).toMatch(
      /The chance of having run out is (\d+% by \d+ May and )?\d+% by 19 May\./,
    );
    expect(await section.locator('.mark-order').textContent()).toMatch(/^order by \d+ (Mar|Apr|May)$/);
    expect(await section.locator('.tick').count()).toBe(rows.length);
    await page.context().close();
  });

  test('opens to its days, each with its chance', async () => {
    const page = await shelf();
    const section = page.locator(`#material-${home.clay.id}`);
    await section.locator('summary').click();
    const { rows } = await clay();
    const table = section.getByRole('table');
    const told = await table.getByRole('row').allTextContents();
    expect(told).toHaveLength(rows.length + 1);
    expect(told[1]).toContain('24 March');
    expect(told[1]).toContain('Spring mugs');
    expect(told.at(-1)).toContain(`${Math.round(Number(rows.at(-1)?.shortChance) * 100)}%`);
    await page.context().close();
  });
});

test('the drawing keeps to its frame when a delivery brings more than there was', async () => {
  const seller = await supplierFixture(owner);
  await soldBy(owner, home.clay.id, seller.id, [{ quantity: 12_500, priceMinor: 1760 }]);
  const lines = [{ materialId: home.clay.id, packQuantity: 12_500, packs: 4 }];
  const order = await made(owner, '/api/orders', { supplierId: seller.id, lines, note: null });
  await made(owner, `/api/orders/${order.id}/placing`, {});
  const page = await shelf();
  const section = page.locator(`#material-${home.clay.id}`);
  const frame = await section.locator('.stock svg').boundingBox();
  for (const kind of ['likely', 'worst', 'expected']) {
    const drawn = await section.locator(`.stock path.${kind}`).boundingBox();
    expect(drawn?.y, kind).toBeGreaterThanOrEqual(frame?.y ?? Number.POSITIVE_INFINITY);
  }
  // what all will use at worst is no less for what is on order
  const { needAtWorst, needs } = await clay();
  const expected = needs.reduce((sum, need) => sum + need.expected, 0);
  expect(needAtWorst).toBeGreaterThan(expected);
  const said = (await section.locator('p').allTextContents()).join(' ').replaceAll('\u00a0', ' ');
  expect(said).toContain(
    `1 chance in 10 that it is more than ${(needAtWorst / 1000).toFixed(1).replace(/\.0$/, '')} kg.`,
  );
  await page.context().close();
});

describe.each(['light', 'dark'] as const)('in %s', (colorScheme) => {
  test.each([
    ['on a desk', {}],
    ['on a phone', PHONE],
  ])('axe finds nothing %s and nothing scrolls sideways', async (_where, options) => {
    const page = await shelf({ ...options, colorScheme });
    for (const summary of await page.locator('main summary').all()) await summary.click();
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
    else expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(1280);
    await page.context().close();
  });
});

test('at 200 % zoom nothing scrolls sideways; on paper there is no navigation', async () => {
  const page = await shelf({ viewport: { width: 640, height: 400 } });
  await expectFits(page);
  await page.emulateMedia({ media: 'print' });
  expect(await page.locator('nav:visible').count()).toBe(0);
  expect(await page.locator('[style]').count()).toBe(0);
  await page.context().close();
});
