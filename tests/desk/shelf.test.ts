import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import type { OutlookItem } from '../../src/studio/planning/contract.js';
import { testApp } from '../support/app.js';
import { bookingFixture } from '../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../support/fixtures/courses.js';
import { made } from '../support/fixtures.js';
import { browse, buildDesk, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';

buildDesk();
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
      /^Order 15 of Sponges, three packs, by Saturday,? 21 March; those booked alone run it short by 24 March\./,
    );
    expect(said).toContain(`Order 10 kg of ${home.clay.name}, one pack, by`);
    expect(said).toContain('; one chance in two that it has run short by');
    expect(said).toMatch(/Count Sponges first: what the books say can’t be right\.$/);
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
    expect(await drawing.getAttribute('aria-label')).toContain('It has run short with one chance in two by 19 May');
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
    expect(told.at(-1)).toContain(`${Math.round(Number(rows.at(-1)?.shortChance) * 100)}\u00a0%`);
    await page.context().close();
  });
});

describe.each(['light', 'dark'] as const)('in %s', (colorScheme) => {
  test.each([
    ['on a desk', {}],
    ['on a phone', PHONE],
  ])('axe finds nothing %s and nothing scrolls sideways', async (_where, options) => {
    const page = await shelf({ ...options, colorScheme });
    for (const summary of await page.locator('summary').all()) await summary.click();
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
