import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';

const { app, db, owner } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  session = await sessionOf(open);
});
const dialog = (page: Page) => page.getByRole('dialog');

describe.each([
  ['at a desk', {}, 'Half-term', '2026-04-20', '2026-04-24'],
  ['on a phone', PHONE, 'Wiring', '2026-04-27', ''],
] as const)('%s,', (_, options, name, from, to) => {
  test('days are closed, shown in the calendar, and no session is moved there unless somebody says so', async () => {
    const page = await open('/studio/closed-days', { ...options, storageState: session });
    await page.getByRole('button', { name: 'Add a closed day' }).click();
    await page.getByLabel('Why').fill(name);
    await page.getByLabel('First day').fill(from);
    await page.getByLabel('Last day').fill(to);
    await page.getByRole('button', { name: 'Add closed day' }).click();
    await page.getByText(`“${name}” is saved.`).waitFor();
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
    await page.goto(new URL('/courses/calendar?month=2026-04', page.url()).href);
    const closed = page.locator('main .closed-day', { hasText: `Closed: ${name}` });
    await closed.first().waitFor();
    expect(await closed.count()).toBe(to === '' ? 1 : 5);
    expect(await faultsOf(page)).toEqual([]);

    const course = await home.addCourse({ title: `Bowls ${name}` });
    await page.goto(new URL(`/courses/${course.id}`, page.url()).href);
    await page.getByRole('button', { name: 'Move session 1', exact: true }).click();
    await dialog(page).getByText('Nothing is changed yet.').waitFor();
    await dialog(page).getByLabel('Day').fill(from);
    await dialog(page).getByText(`The studio is closed that day (${name}).`).waitFor();
    await dialog(page).getByRole('alert').filter({ hasText: 'Choose another day, or say that' }).waitFor();
    await dialog(page).getByText('It takes place all the same').click();
    await dialog(page).getByRole('button', { name: 'Change this session' }).click();
    await page.locator('main').getByText('Session 1 takes place though the studio is closed that day').waitFor();
    const [moved] = (await owner.get(`/api/courses/${course.id}/dates`)).json().sessions;
    expect(moved.startsAt).toContain(from);
    await page.context().close();
  });
});

test('a closed day is removed again', async () => {
  await owner.post('/api/closures', { name: 'Fair', from: '2026-09-05', to: '2026-09-05' });
  const page = await open('/studio/closed-days', { storageState: session });
  await page.getByRole('button', { name: 'Change Fair' }).click();
  await page.getByRole('button', { name: 'Remove this closed day' }).click();
  await expect.poll(() => db.closure.count({ where: { name: 'Fair' } })).toBe(0);
  await page.context().close();
});
