import type { AddressInfo } from 'node:net';
import { afterAll, expect, test } from 'vitest';
import type { SampleStatus, SampleStudio } from '../../src/http/sample-studio.js';
import { buildApp } from '../../src/server/app.js';
import { openSessionOfOwner } from '../../src/studio/staff/sign-in.js';
import { testApp } from '../support/app.js';
import { studioFixture } from '../support/fixtures.js';
import { browse, expectFits, expectNoSidewaysScroll, faultsOf, PHONE, sessionOf } from './browser.js';

const { db, clock, owner } = await testApp();
await studioFixture(owner);

/** The second studio; tests/commands/sample-studio.test.ts makes the real one. */
let ownBase = '';
const second = await buildApp({ db, now: clock.now, sampleOf: { ownStudio: () => ownBase } });
await second.listen({ port: 0, host: '127.0.0.1' });
afterAll(() => second.close());
const secondBase = `http://127.0.0.1:${(second.server.address() as AddressInfo).port}`;

let status: SampleStatus = { state: 'absent', detail: null };
const sampleStudio: SampleStudio = {
  getStatus: async () => status,
  make: async () => {
    status = { state: 'loading', detail: null };
    return status;
  },
  visit: async () => ({ url: secondBase, session: await openSessionOfOwner(db, clock.now()) }),
  remove: async () => {
    status = { state: 'absent', detail: null };
    return status;
  },
};
const { base, open } = await browse(await buildApp({ db, now: clock.now, sampleStudio }));
ownBase = base;
const storageState = await sessionOf(open);

test.each([
  ['at 1280 px', { storageState, viewport: { width: 1280, height: 900 } }],
  ['on a phone in the dark', { storageState, ...PHONE, colorScheme: 'dark' as const }],
])('the sample studio is made, opened, said to be one, left and removed: %s', async (how, options) => {
  const fits = how.includes('phone') ? expectFits : expectNoSidewaysScroll;
  const shot = (name: string) =>
    process.env.SHOTS && page.screenshot({ path: `${process.env.SHOTS}/${name}-${how.slice(0, 2)}.png` });
  const page = await open('/studio/sample', options);
  await page.getByRole('button', { name: 'Make the sample studio' }).click();
  await page.getByText('The sample studio is being made.').waitFor();
  expect(await faultsOf(page)).toEqual([]);
  status = { state: 'ready', detail: null };
  await page.getByText('The sample studio is ready.').waitFor();
  expect(await faultsOf(page)).toEqual([]);
  await fits(page);
  await shot('sample-page');
  await page.getByRole('button', { name: 'Open the sample studio' }).click();

  await page.waitForURL(`${secondBase}/`);
  const banner = page.getByRole('complementary', { name: 'Sample studio' });
  await banner.getByText('nothing here is real, and no letters go out').waitFor();
  await page.locator('main[aria-busy=false]').waitFor();
  expect(await faultsOf(page)).toEqual([]);
  await fits(page);
  await shot('sample-banner');
  await banner.getByRole('link', { name: 'Back to your own studio' }).click();

  await page.waitForURL(`${base}/studio/sample`);
  await page.getByRole('button', { name: 'Remove the sample studio' }).click();
  await page.getByRole('button', { name: 'Make the sample studio' }).waitFor();
  expect(await banner.count()).toBe(0);
  await page.context().close();
});

test('where it can’t be, the page says why and what to do', async () => {
  status = { state: 'impossible', detail: 'Run "npm run demo" on your own computer.' };
  const page = await open('/studio/sample', { storageState });
  await page.getByText('Run "npm run demo" on your own computer.').waitFor();
  expect(await page.getByRole('button', { name: /sample studio/ }).count()).toBe(0);
  status = { state: 'absent', detail: null };
});
