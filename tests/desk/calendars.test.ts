import type { BrowserContextOptions } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { browse, expectFine, PHONE, sessionOf } from './browser.js';
import { keyboardOf } from './keyboard.js';

const { app, owner } = await testApp();
const { open, base } = await browse(app);
let session: BrowserContextOptions['storageState'];

beforeAll(async () => {
  const home = await coursesFixture(owner);
  await home.addCourse({ title: 'Bowls' });
  session = await sessionOf(open);
});

describe.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('%s, by keyboard,', (_, options) => {
  test('a calendar gets its address, a new one, and loses it', async () => {
    const page = await open('/studio/calendars', { ...options, storageState: session });
    await page.locator('main[aria-busy=false] .answer').waitFor();
    const { press, interactions } = keyboardOf(page);
    const { name } = (await owner.get('/api/studio')).json();
    const read = async () => (await fetch(await page.getByLabel('Address', { exact: true }).inputValue())).status;
    await press(`Make an address for ${name}`);
    await page.getByText('It is shown here this once.').waitFor();
    expect(await page.getByLabel('Address', { exact: true }).inputValue()).toMatch(
      new RegExp(`^${base}/api/calendars/.{43}\\.ics$`),
    );
    expect(await read()).toBe(200);
    await page.getByText('It can be read only on the computer that runs Wareboard').waitFor();
    await expectFine(page, options);
    await press('Close');
    await press(`End the address for ${name}`);
    await page.getByText('No calendar can read your sessions yet.').waitFor();
    expect(interactions()).toBe(3);
    await page.context().close();
  });
});
