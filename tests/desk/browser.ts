import axe from 'axe-core';
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, expect, inject } from 'vitest';
import type { App } from '../../src/server/app.js';
import { connectToChromium, ELSEWHERE } from '../support/chromium.js';

/** For what hangs: a page may be slow on a machine that others load. */
const HANGS_AFTER_MILLISECONDS = 300_000;

/** The run's one browser; the files of a worker share the connection to it. */
let connection: Promise<Browser> | undefined;

async function browserOfRun(): Promise<Browser> {
  const before = await connection?.catch(() => undefined);
  if (before?.isConnected()) return before;
  connection = connectToChromium(inject('chromium').url); // the first time, and after it crashed
  return connection;
}

/** A real browser before the app, which listens at `base`. */
export async function browse(app: App) {
  const base = await app.listen({ port: 0, host: '127.0.0.1' });
  const windows: BrowserContext[] = [];
  afterAll(async () => {
    for (const window of windows) await window.close();
  });
  /** A page of a new browser window; what goes wrong in it fails the test. */
  const open = async (path: string, options: BrowserContextOptions = {}): Promise<Page> => {
    const window = await (await browserOfRun()).newContext(options);
    windows.push(window);
    window.setDefaultTimeout(HANGS_AFTER_MILLISECONDS);
    const page = await window.newPage();
    page.on('pageerror', (error) => {
      throw error;
    });
    page.on('console', (message) => {
      if (message.text().includes('Content Security Policy')) throw new Error(message.text());
    });
    await page.goto(new URL(path, base).href);
    return page;
  };
  const elsewhere = base.replace('127.0.0.1', ELSEWHERE);
  return { base, elsewhere, open };
}

export async function signIn(
  page: Page,
  password = 'a long test password',
  email = 'owner@example.org',
): Promise<void> {
  await page.getByLabel('Email address').fill(email);
  await page.getByLabel('Password').fill(password);
  await page.getByRole('button', { name: 'Sign in' }).click();
}

/**
 * A signed-in owner's cookies: guessing passwords is slowed down, so that one sign-in serves a whole file. How one signs in on the
 * desk is tested in desk.test.ts.
 */
export async function sessionOf(open: (path: string) => Promise<Page>): Promise<BrowserContextOptions['storageState']> {
  const page = await open('/health');
  const { request } = page.context();
  const data = { email: 'owner@example.org', password: 'a long test password' };
  const headers = { 'sec-fetch-site': 'same-origin' };
  const answer = await request.post(new URL('/api/sign-in', page.url()).href, { data, headers });
  expect(answer.status()).toBe(204);
  const session = await page.context().storageState();
  await page.context().close();
  return session;
}

/** What axe finds against WCAG 2.2 AA and good practice. */
export async function faultsOf(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  // only what it finds wrong leaves the page: all that it looked at is many times as much, and took half of a test's time
  return page.evaluate(async () => {
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
    const inPage = (window as unknown as { axe: typeof axe }).axe;
    const { violations } = await inPage.run(document, { runOnly: tags, resultTypes: ['violations'] });
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map((n) => n.html).join(' | ')}`);
  });
}

/** A phone of 360 px: nothing scrolls sideways, and what is touched is 44 px high or more. */
export const PHONE: BrowserContextOptions = { viewport: { width: 360, height: 740 }, hasTouch: true };

/** A checkbox is touched by its label. */
const TOUCHED =
  'nav a:visible, button:visible, input:not([type=checkbox], [type=radio]):visible, label:has(input):visible, summary:visible, select:visible, textarea:visible';

export async function expectNoSidewaysScroll(page: Page): Promise<void> {
  const { width = 0 } = page.viewportSize() ?? {};
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
}

/** The list at `path` as one that is longer than a page: its first page is empty here, what there is comes with the second. */
export async function asSecondPage(page: Page, path: string): Promise<void> {
  await page.route(
    (url) => url.pathname === path && !url.searchParams.has('after'),
    (route) => route.fulfill({ json: { items: [], next: '00000000-0000-0000-0000-000000000000' } }),
  );
}

/** The list at `path` as one of which only the first is on the page that is asked for. */
export async function asCutShort(page: Page, path: string): Promise<void> {
  await page.route(
    (url) => url.pathname === path,
    async (route) => {
      const { items, ...found } = await (await route.fetch()).json();
      await route.fulfill({ json: { ...found, items: items.slice(0, 1), next: 'more' } });
    },
  );
}

export async function expectFits(page: Page): Promise<void> {
  await expectNoSidewaysScroll(page);
  const touched = page.locator(TOUCHED);
  // asked again: what is drawn anew between being found and being measured has no height
  const least = () => touched.evaluateAll((all) => Math.min(...all.map((one) => one.getBoundingClientRect().height)));
  await expect.poll(least).toBeGreaterThanOrEqual(44);
}

/** axe finds nothing, and on a phone nothing is wider than the screen and what is touched is large enough. */
export async function expectFine(page: Page, options: BrowserContextOptions): Promise<void> {
  if (options === PHONE) await expectFits(page);
  expect(await faultsOf(page)).toEqual([]);
}

/** Opens all that a page keeps closed until somebody asks for it. */
export const openAll = (page: Page): Promise<void> =>
  page.evaluate(() => {
    for (const part of document.querySelectorAll('main details')) (part as HTMLDetailsElement).open = true;
  });
