import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { VESSEL_SHAPES } from '../../src/trade/materials/vessel-shapes.js';
import { testApp } from '../support/app.js';
import { bookingFixture } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { firingFixture, step } from '../support/fixtures/firings.js';
import { kilnFixture, scheduleFixture, tariffFixture } from '../support/fixtures/kilns.js';
import { till } from '../support/fixtures/vouchers.js';
import { noted, piecesFixture } from '../support/fixtures/ware.js';
import { made, personFixture } from '../support/fixtures.js';
import { browse, expectFits, expectNoSidewaysScroll, faultsOf, openAll, PHONE, sessionOf, signIn } from './browser.js';

const house = await testApp();
const { app, owner, clock } = house;
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let names: { clay: string; glaze: string };

/** In the kiln since the night of the 8th, planned to be cold by the evening of the 9th. */
beforeAll(async () => {
  const home = await coursesFixture(owner);
  names = { clay: home.clay.name, glaze: home.glaze.name };
  await tariffFixture(owner);
  const ada = await personFixture(owner, 'Ada Finch');
  const ware = (form: string) => ({ form, size: 'medium', description: `A ${form}`, clayId: null });
  const inKiln = await piecesFixture(owner, ada.id, { ware: VESSEL_SHAPES.map(ware) });
  await noted(owner, inKiln, 'dry');
  const [kiln, schedule] = [await kilnFixture(owner), await scheduleFixture(owner)];
  const firing = await firingFixture(owner, { kilnId: kiln.id, scheduleId: schedule.id });
  const placements = inKiln.map(({ id }, i) => ({ pieceId: id, layer: 1 + (i % 2) }));
  await step(owner, firing.id, 'loading', { placements });
  await step(owner, firing.id, 'readings', { at: '2026-03-08T19:55:00Z', kwh: '10423.7' });
  await step(owner, firing.id, 'start', { startedAt: '2026-03-08T20:00:00Z' });

  const drying = await piecesFixture(owner, ada.id, { ware: [...VESSEL_SHAPES, ...VESSEL_SHAPES].map(ware) });
  expect(drying).toHaveLength(18);
  const course = await made<{ id: string }>(owner, '/api/courses', {
    ...{ ...home.body, title: 'Wide bowls', places: 4, minimum: 1 },
    sessions: ['2026-03-10', '2026-03-17'].map((day) => ({
      ...{ startsAt: `${day}T19:00:00Z`, endsAt: `${day}T21:00:00Z`, roomId: home.room.id },
    })),
  });
  await bookingFixture(owner, course.id);
  const tom = await personFixture(owner, 'Tom Ashby');
  await till(house, home.standard.id).ask(tom.id, 1250, {
    ...{ kind: 'firing', description: 'Firing 12, 3 pieces', inAdvance: false },
  });
  await clock.set('2026-03-10T09:00:00Z');
  session = await sessionOf(open);
});

async function today(options: BrowserContextOptions = {}): Promise<Page> {
  const page = await open('/', { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  return page;
}

test('answers in a sentence whose figures lead to their places', async () => {
  const page = await today();
  const { debts } = (await owner.get('/api/today')).json();
  const money = (minor: number) => `£${(minor / 100).toFixed(2)}`.replace(/\.00$/, '');
  expect(debts.people).toBe(2);
  expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('What’s on today, Tuesday 10 March?');
  expect((await page.locator('.answer').textContent())?.trim()).toBe(
    'Unload bisque firing 1 (cold since yesterday), teach Wide bowls at 19:00 (1 booked) and ' +
      `order 10\u00a0kg of ${names.clay} at once and 10\u00a0kg of ${names.glaze} by tomorrow. ` +
      `Two people still owe ${money(debts.owedMinor)} (all of it is due).`,
  );
  for (const link of await page.locator('.answer a').all()) {
    const place = (await link.getAttribute('href')) ?? '';
    expect(await page.locator(place).count()).toBe(1);
  }
  await page.locator('.answer a').first().click();
  expect(new URL(page.url()).hash).toBe('#firing-1');
  await page.context().close();
});

test('who owes is shown in cards in its narrow column, on a desk too', async () => {
  const page = await today();
  const row = page.getByRole('table', { name: 'Who owes' }).locator('tbody tr').first();
  const [card, column] = [await row.boundingBox(), await page.locator('.day-side').boundingBox()];
  expect(column?.width).toBeLessThan(608);
  expect(await row.evaluate((one) => getComputedStyle(one).display)).toBe('block');
  expect(card?.width).toBeLessThanOrEqual(column?.width ?? 0);
  await page.context().close();
});

describe('the boards', () => {
  test('are lists that say what is drawn, and give way to all that stands there', async () => {
    const page = await today();
    const board = page.getByRole('list', { name: /^Drying/ });
    const items = board.getByRole('listitem');
    expect(await items.count()).toBe(16);
    await page.getByRole('button', { name: 'Show 2 more' }).click();
    expect(await items.count()).toBe(18);
    const texts = await board.locator('.heard').allTextContents();
    expect(texts.filter((text) => /^\w+, Ada Finch, mug, 12 by 10 cm, since today$/.test(text))).toHaveLength(2);
    expect(texts.filter((text) => /^\w+, Ada Finch, pinch pot, 10 by 7 cm, since today$/.test(text))).toHaveLength(2);
    await page.context().close();
  });

  test('are to one scale, here and on a phone, where the plank goes on below', async () => {
    const measured = [];
    for (const options of [{}, PHONE]) {
      const page = await today(options);
      await openAll(page);
      const pots = page.getByRole('list', { name: /^Drying/ }).locator('svg');
      const boxes = await pots.evaluateAll((all) => all.map((e) => e.getBoundingClientRect().toJSON() as DOMRect));
      const [cylinder, mug] = [boxes[0], boxes[1]];
      expect((cylinder?.height ?? 0) / (mug?.height ?? 1)).toBeCloseTo(150 / 95, 2); // medium sizes in mm, src/trade/forms.ts
      const planks = new Set(boxes.map(({ bottom }) => Math.round(bottom)));
      const beyond = boxes.filter(({ right, left }) => left < 0 || right > (page.viewportSize()?.width ?? 0));
      expect(beyond).toEqual([]);
      measured.push({ mug: mug?.width, planks: planks.size });
      await page.context().close();
    }
    const [desk, phone] = measured;
    expect(phone?.mug).toBeCloseTo(desk?.mug ?? 0, 2);
    expect(phone?.planks).toBeGreaterThan(desk?.planks ?? 0);
  });
});

test('the kiln stands in section, its layers open to what they hold, and it warns of heat', async () => {
  const page = await today();
  const card = page.locator('#firing-1');
  const box = await card.getByRole('img', { name: 'Bisque firing 1 in section, to scale' }).getAttribute('viewBox');
  expect(box).toBe('-14 -704 608 718'); // 580 by 690 mm, and 14 mm of wall around it
  expect(await card.locator('path.pot').count()).toBe(9);
  await card.locator('summary').click();
  expect(await card.locator('h4').allTextContents()).toEqual(['Layer 2 four pieces', 'Layer 1 five pieces']);
  expect(await card.textContent()).toMatch(/Open only when cold.*carbon monoxide.*Isolate the kiln/);
  await page.context().close();
});

test('a place that is not paid for is told as provisional', async () => {
  const page = await today();
  const coming = page.getByRole('list', { name: 'Who comes to Wide bowls' });
  expect(await coming.getByRole('listitem').allTextContents()).toEqual([
    expect.stringMatching(/^Ines Duval \d+ \(place not yet confirmed\)$/),
  ]);
  await page.context().close();
});

test('a tutor sees the day without money, and no word that would be a refusal', async () => {
  const page = await open('/sign-in');
  await signIn(page, 'a long test password', 'tutor@example.org');
  await page.locator('main[aria-busy=false] .answer').waitFor();
  expect(await page.locator('main').textContent()).not.toMatch(/£|owe/);
  expect(await page.locator('nav a:visible').allTextContents()).toEqual([
    ...['Today', 'Courses', 'People', 'Ware', 'Kilns', 'Shelf', 'Studio'],
  ]);
  await page.context().close();
});

test('a server that cannot be reached is told, and asked again', async () => {
  const page = await open('/sign-in', { storageState: session });
  await page.route('**/api/today', (route) => route.abort());
  await page.goto(new URL('/', page.url()).href);
  await page.getByRole('alert').waitFor();
  expect(await page.getByRole('alert').textContent()).toContain('can’t be reached');
  await page.unroute('**/api/today');
  await page.getByRole('button', { name: 'Try again' }).click();
  await page.locator('.answer').waitFor();
  expect(await page.getByRole('alert').count()).toBe(0);
  await page.context().close();
});

describe.each(['light', 'dark'] as const)('in %s', (colorScheme) => {
  test.each([
    ['on a desk', {}],
    ['on a phone', PHONE],
  ])('axe finds nothing %s and nothing scrolls sideways', async (_where, options) => {
    const page = await today({ ...options, colorScheme });
    await openAll(page);
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
    else await expectNoSidewaysScroll(page);
    await page.context().close();
  });
});

test('on a phone the words stand in thumb reach; on paper there is neither navigation nor button', async () => {
  const page = await today(PHONE);
  await openAll(page);
  const words = await page.locator('nav').boundingBox();
  expect((words?.y ?? 0) + (words?.height ?? 0)).toBeCloseTo(740, 0);
  await page.emulateMedia({ media: 'print' });
  expect(await page.locator('nav:visible').count()).toBe(0);
  expect(await page.locator('button:visible').count()).toBe(0);
  expect(await page.getByRole('list', { name: /^Drying/ }).isVisible()).toBe(true);
  await page.context().close();
});
