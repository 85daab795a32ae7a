import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { openChromium } from '../support/chromium.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made } from '../support/fixtures.js';

// The desk is served as it was built; a fresh checkout builds it when its packages are installed.
if (!existsSync('dist/desk/index.html')) execFileSync('npm', ['run', 'build'], { stdio: 'ignore', shell: true });

const { app, owner } = await testApp();
let browser: Browser;
let base: string;
let courseId: string;

beforeAll(async () => {
  const home = await coursesFixture(owner);
  const lot = (materialId: string, quantity: number, costMinor: number) =>
    made(owner, `/api/materials/${materialId}/lots`, {
      supplier: 'Fernley Clays',
      receivedOn: '2026-03-02',
      quantity,
      costMinor,
    });
  await lot(home.clay.id, 100_000, 9000);
  await lot(home.glaze.id, 10_000, 8000);
  const bands = [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }];
  await made(owner, '/api/tariffs', { name: 'Day', validFrom: '2026-01-01', bands });
  courseId = (await home.addCourse()).id;
  base = await app.listen({ port: 0, host: '127.0.0.1' });
  browser = await openChromium();
  const page = await open('/sign-in');
  await signIn(page);
  await page.waitForURL(`${base}/`);
  session = await page.context().storageState();
}, 120_000);
afterAll(() => browser?.close());

/** A page of a new browser; what it logs as an error fails the test. */
async function open(path: string, options: BrowserContextOptions = {}): Promise<Page> {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  page.on('pageerror', (error) => {
    throw error;
  });
  await page.goto(base + path);
  return page;
}

async function signIn(page: Page, password = 'a long test password'): Promise<void> {
  await page.getByLabel('E-mail address').fill('owner@example.org');
  await page.getByLabel('Password').fill(password);
  await page.getByRole('button', { name: 'Sign in' }).click();
}

let session: BrowserContextOptions['storageState'];

/** The price page, signed in; guessing passwords is slowed down, so that one sign-in serves the whole file. */
async function priced(options: BrowserContextOptions = {}): Promise<Page> {
  const page = await open(`/price/${courseId}`, { ...options, storageState: session });
  await page.getByRole('heading', { name: /What must “Two mugs” cost/ }).waitFor();
  return page;
}

const faultsOf = async (page: Page) => {
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa', 'best-practice'])
    .analyze();
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map((n) => n.html).join(' | ')}`);
};

describe('signing in', () => {
  test('is asked for first, refuses a wrong password, and leads back', async () => {
    const page = await open(`/price/${courseId}`);
    await page.waitForURL(/\/sign-in/);
    await signIn(page, 'not the password');
    await page.getByRole('alert').waitFor();
    expect(await page.getByRole('alert').textContent()).toContain('Check both');
    await signIn(page);
    await page.waitForURL(`${base}/price/${courseId}`);
    await page.getByRole('button', { name: /Sign out Test owner/ }).click();
    await page.waitForURL(/\/sign-in/);
    await page.context().close();
  });

  test('leads to no other site', async () => {
    const page = await open('/sign-in?then=//evil.example/');
    await signIn(page);
    await page.waitForURL(`${base}/`);
    await page.context().close();
  });
});

describe('the price page', () => {
  test('answers as the API does, and every number of the picture stands in a table', async () => {
    const page = await priced();
    const { result } = (await owner.get(`/api/courses/${courseId}/price`)).json();
    const fair = `£${(result.fairPriceMinor / 100).toFixed(2)}`;
    expect(await page.locator('.answer').textContent()).toContain(`Ask ${fair} a place`);
    expect(await page.locator('table.rungs tbody tr').count()).toBe(result.ladder.length);
    expect(await page.locator('table.lines').first().textContent()).toContain('Assumption.');
    await page.context().close();
  });

  test('answers a slider at once, without asking the server, and goes back', async () => {
    const page = await priced();
    const before = await page.locator('.answer').textContent();
    const asked: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    await page.getByLabel('Your hour').focus();
    for (let i = 0; i < 12; i++) await page.keyboard.press('ArrowRight');
    await expect.poll(() => page.locator('.answer').textContent()).not.toBe(before);
    expect(asked).toEqual([]);
    await page.getByRole('button', { name: /Back to today/ }).click();
    await expect.poll(() => page.locator('.answer').textContent()).toBe(before);
    await page.context().close();
  });

  test('keeps a reckoning', async () => {
    const page = await priced();
    await page.getByRole('button', { name: /Keep today/ }).click();
    await expect.poll(() => page.locator('.done').textContent()).toContain('Kept');
    await page.context().close();
  });

  test('is reached by the keyboard alone, from the first word to the last', async () => {
    const page = await priced();
    const reached = new Set<string>();
    for (let i = 0; i < 20; i++) {
      await page.keyboard.press('Tab');
      reached.add(await page.evaluate(() => document.activeElement?.textContent || document.activeElement?.id || ''));
    }
    const all = await page.locator('a[href], button, input, select').count();
    expect(reached.size).toBeGreaterThanOrEqual(all);
    await page.context().close();
  });
});

describe.each(['light', 'dark'] as const)('in %s', (colorScheme) => {
  test('axe finds nothing, on sign-in and on the price', async () => {
    const page = await open('/sign-in', { colorScheme });
    expect(await faultsOf(page)).toEqual([]);
    await page.context().close();
    const price = await priced({ colorScheme });
    expect(await faultsOf(price)).toEqual([]);
    await price.context().close();
  });

  test('nothing scrolls sideways at 360 px, and what is touched is large enough', async () => {
    const page = await priced({ colorScheme, viewport: { width: 360, height: 740 }, hasTouch: true });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    const heights = await page
      .locator('main button, main input')
      .evaluateAll((all) => all.map((e) => e.getBoundingClientRect().height));
    expect(Math.min(...heights)).toBeGreaterThanOrEqual(44);
    await page.context().close();
  });
});
