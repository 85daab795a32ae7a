import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { bookingFixture } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { lotFixture, materialFixture } from '../support/fixtures/materials.js';
import { mixFixture, powderFixture } from '../support/fixtures/mixes.js';
import { made } from '../support/fixtures.js';
import { browse, sessionOf } from './browser.js';

// After a deed a page is read once, by the deed; what only reads changes nothing and reads nothing else again.

const { app, owner } = await testApp();
const { base, open } = await browse(app);
let page: Page;
let home: Awaited<ReturnType<typeof coursesFixture>>;
let asked: { method: string; path: string; key: string | undefined }[] = [];

beforeAll(async () => {
  home = await coursesFixture(owner);
  const course = await home.addCourse();
  await bookingFixture(owner, course.id);
  page = await open('/health', { storageState: await sessionOf(open) });
  page.on('request', (request) => {
    const { pathname } = new URL(request.url());
    if (!pathname.startsWith('/api/')) return;
    asked.push({ method: request.method(), path: pathname, key: request.headers()['idempotency-key'] });
  });
});

/** Opens a page, and forgets what it took to read it. */
async function at(path: string): Promise<void> {
  await page.goto(`${base}${path}`);
  await page.locator('main[aria-busy=false] .answer').waitFor();
  await page.waitForLoadState('networkidle');
  asked = [];
}
/** How often the page asked for this since then, once all is quiet. */
async function timesAsked(path: string): Promise<number> {
  await page.waitForLoadState('networkidle');
  return asked.filter((one) => one.method === 'GET' && one.path === path).length;
}

describe('once after a deed', () => {
  test('an assumption that is confirmed', async () => {
    await owner.post('/api/assumptions', { kind: 'kiln', subjectId: home.kiln.id, figures: ['Rated power, kW: 9'] });
    await at('/studio/start');
    await page.getByRole('button', { name: /is right$/ }).click();
    await page.getByRole('heading', { name: 'Assumptions' }).waitFor({ state: 'detached' });
    expect(await timesAsked('/api/assumptions')).toBe(1);
  });

  test('a plan that is corrected, which is shown as it is now', async () => {
    const path = `/api/course-plans/${home.plan.id}`;
    await at(`/courses/plans/${home.plan.id}`);
    await page.getByRole('button', { name: 'Correct this plan' }).click();
    await page.getByLabel('Places', { exact: true }).fill('9');
    await page.getByRole('button', { name: 'Save plan' }).click();
    await page.locator('.done').waitFor();
    expect((await page.locator('.answer').first().textContent())?.replaceAll('\u00a0', ' ')).toContain('to 9 places');
    expect(await timesAsked(path)).toBe(1);
  });

  test('a payment, which bears one key', async () => {
    await at('/money');
    await page.getByRole('button', { name: 'Take a payment' }).first().click();
    await page.locator('form.payment input[type=checkbox]').first().check();
    await page.locator('form.payment [type=submit]').click();
    await page.getByRole('link', { name: /Open receipt/ }).waitFor();
    expect(await timesAsked('/api/debtors')).toBe(1);
    expect(asked.filter(({ method }) => method === 'POST').map(({ path }) => path)).toEqual(['/api/payments']);
    expect(await page.locator('form.payment').count()).toBe(0);
  });
});

describe('what only reads', () => {
  test('a recipe that is opened', async () => {
    const [first, second] = [await powderFixture(owner), await powderFixture(owner)];
    const mix = await mixFixture(owner, [first.id, second.id]);
    await at('/shelf/mixes');
    await page.getByRole('button', { name: 'Change the recipe' }).first().click();
    await page.locator('form.raised').waitFor();
    expect(await timesAsked('/api/mixes')).toBe(0);
    expect(await timesAsked(`/api/mixes/${mix.id}`)).toBe(1);
  });

  test('a room that is opened', async () => {
    const { id } = await made(owner, '/api/rooms', { name: 'Loft', benches: 3 });
    await page.goto(`${base}/studio/rooms`);
    await page.getByRole('button', { name: 'Change Loft' }).waitFor();
    await page.waitForLoadState('networkidle');
    asked = [];
    await page.getByRole('button', { name: 'Change Loft' }).click();
    await page.getByLabel('Places to work').fill('4');
    expect(await timesAsked('/api/rooms')).toBe(0);
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await page.getByText('“Loft” is saved.').waitFor();
    expect(await timesAsked('/api/rooms')).toBe(1);
    expect(await timesAsked(`/api/rooms/${id}`)).toBe(1);
  });

  test('the price of what is chosen to be sold', async () => {
    const clay = await materialFixture(owner);
    await lotFixture(owner, clay.id);
    await at('/shelf/sales');
    await page.getByLabel('What?').selectOption(clay.name);
    await page.getByLabel('Price for a kilogram, in GBP').waitFor();
    expect(await timesAsked('/api/sales')).toBe(0);
  });
});

/** Holds the answers of an address back until they are let go. */
async function holding(address: string, work: (letGo: () => void) => Promise<void>): Promise<void> {
  let letGo = () => {};
  const gone = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  await page.route(address, async (route) => {
    await gone;
    await route.continue().catch(() => {}); // broken off meanwhile
  });
  try {
    await work(letGo);
  } finally {
    letGo();
    await page.unroute(address, undefined);
  }
}

describe('what was read before', () => {
  test('is shown at once when a page is opened again, and read again meanwhile', async () => {
    for (const { id } of [home.clay, home.glaze]) await lotFixture(owner, id);
    const bands = [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }];
    await made(owner, '/api/tariffs', { name: 'Day', validFrom: '2026-01-01', bands });
    await at('/courses/price');
    const answer = await page.locator('.answer').textContent();
    await page.getByRole('link', { name: 'Plans', exact: true }).click();
    await page.locator('main[aria-busy=false] a[href="/courses/plans/new"]').waitFor();
    await page.waitForLoadState('networkidle');
    asked = [];
    await holding('**/api/courses/*/price', async (letGo) => {
      await page.getByRole('link', { name: 'Prices', exact: true }).click();
      await page.getByRole('heading', { name: /^What must “/ }).waitFor();
      expect(await page.locator('.answer').textContent()).toBe(answer); // while its answer is held back
      letGo();
      await page.locator('main[aria-busy=false] .answer').waitFor();
    });
    await page.waitForLoadState('networkidle');
    // it is asked for after the list of courses, which the page shows as it was before
    await expect.poll(() => asked.filter(({ path }) => path.endsWith('/price')).length).toBe(1);
  });

  test('is broken off where nobody waits for it any more', async () => {
    await at('/shelf/tiles');
    const broken: string[] = [];
    page.on('requestfailed', (request) => broken.push(new URL(request.url()).search));
    await holding('**/api/test-tiles?*search=m*', async () => {
      const first = page.waitForRequest((request) => request.url().includes('search=m'));
      await page.getByLabel('Look for').fill('moss');
      await first;
      await page.getByLabel('Look for').fill('');
      await expect.poll(() => broken.filter((search) => search.includes('search=moss')).length).toBe(1);
      expect(await page.locator('.answer').textContent()).toContain('None yet.');
    });
  });
});
