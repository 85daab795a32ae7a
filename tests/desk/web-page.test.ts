import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { BrowserContextOptions } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { browse, expectFine, PHONE, sessionOf } from './browser.js';
import { keyboardOf } from './keyboard.js';

const { app, owner } = await testApp();
const { open, base } = await browse(app);
const HOSTILE = '<img src=x onerror="document.title=1"> bowls';
let session: BrowserContextOptions['storageState'];

beforeAll(async () => {
  const home = await coursesFixture(owner);
  await home.addCourse({ title: 'Bowls' });
  await home.addCourse({ title: HOSTILE });
  session = await sessionOf(open);
});

describe.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('%s, by keyboard,', (_, options) => {
  test('coming courses are shown, seen as people see them, put into a page of another site, and hidden again', async () => {
    const page = await open('/studio/web-page', { ...options, storageState: session });
    await page.getByText('Your coming courses are not shown outside the studio.').waitFor();
    const { press, interactions } = keyboardOf(page);
    const preview = page.getByRole('region', { name: 'What people see' });
    await preview.getByRole('heading', { name: HOSTILE }).waitFor(); // as text
    expect(await preview.getByText('8 places left').count()).toBe(2);
    expect(await preview.locator('img').count()).toBe(0);
    await press('Show coming courses');
    await page.getByText('Anyone can see your coming courses with the places left.').waitFor();
    const addresses = ['Courses as HTML', 'Courses as data', 'Calendar'].map((label) =>
      page.getByLabel(label, { exact: true }).inputValue(),
    );
    for (const [i, ending] of ['html', 'json', 'ics'].entries()) {
      const address = (await addresses[i]) ?? '';
      expect(address).toBe(`${base}/api/public/courses.${ending}`);
      expect((await fetch(address)).status).toBe(200);
    }
    await page.getByText('These addresses work only on the computer that runs Wareboard').waitFor();
    await press('Copy snippet');
    await page
      .getByRole('status')
      .filter({ hasText: /Copied|It is marked/ })
      .waitFor();
    await expectFine(page, options);
    await seesCourses(await page.getByLabel('To paste into your page').inputValue(), options);
    for (const wanted of [true, false]) {
      await page.getByLabel('Say who teaches').focus();
      await page.keyboard.press('Space');
      const saved = async () => (await owner.get('/api/web-page')).json();
      await expect.poll(saved).toMatchObject({ isOn: true, namesTutors: wanted });
      await page.locator('main[aria-busy=false] button[aria-disabled=false]', { hasText: 'Stop showing' }).waitFor();
    }
    await press('Stop showing courses');
    await page.getByText('Your coming courses are not shown outside the studio.').waitFor();
    expect((await fetch(`${base}/api/public/courses.html`)).status).toBe(404);
    expect(interactions()).toBe(3);
    await page.context().close();
  });
});

/** A page of another site with what was copied: it shows the courses, and nothing of them runs. */
async function seesCourses(snippet: string, options: BrowserContextOptions) {
  const site = createServer((_, answer) => {
    answer.setHeader('content-type', 'text/html; charset=utf-8');
    answer.end(`<!doctype html><html lang="en"><title>Ours</title><h2>Courses</h2>${snippet}</html>`);
  });
  site.listen(0, '127.0.0.1');
  await once(site, 'listening');
  const page = await open(`http://127.0.0.1:${(site.address() as AddressInfo).port}/`, options); // another port: another origin
  await page.getByRole('heading', { name: HOSTILE }).waitFor();
  expect(await page.getByText('Tuesday 14 April 2026, 19:00 to 21:30').count()).toBe(2);
  expect([await page.title(), await page.locator('img').count()]).toEqual(['Ours', 0]);
  await page.context().close();
  site.closeAllConnections();
  await once(site.close(), 'close');
}
