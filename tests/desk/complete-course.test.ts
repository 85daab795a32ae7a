import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { bookingFixture, payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made } from '../support/fixtures.js';
import { browse, expectFine, openAll, PHONE, sessionOf } from './browser.js';
import { keyboardOf } from './keyboard.js';

const { app, owner, clock } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  session = await sessionOf(open);
  await made(owner, `/api/materials/${home.clay.id}/lots`, {
    ...{ supplier: 'Ostlemere Clays', receivedOn: '2026-03-02', quantity: 20_000, costMinor: 9000 },
  });
});

async function coursePage(id: string, options: BrowserContextOptions): Promise<Page> {
  const page = await open(`/courses/${id}`, { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  await openAll(page);
  return page;
}
const dialog = (page: Page) => page.getByRole('dialog');

describe.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('%s, by keyboard,', (where, options) => {
  test('material is weighed out for a course, and what came back goes on the shelf again', async () => {
    await clock.set('2026-04-14T20:00:00Z');
    const course = await home.addCourse({ title: `Bowls ${where}` });
    const page = await coursePage(course.id, options);
    const { press, write } = keyboardOf(page);
    await press('Weigh out material');
    await press('Take it from the shelf');
    await dialog(page).getByText('Choose what it is.').waitFor();
    await dialog(page).getByLabel('What', { exact: true }).selectOption({ label: home.clay.name });
    expect(await dialog(page).getByLabel('At which session').inputValue()).toBe(course.sessions[0]?.id);
    await write('How much', 'lots');
    await press('Take it from the shelf');
    await dialog(page).locator('[aria-invalid=true]').waitFor();
    await write('How much', '1.2 kg');
    await expectFine(page, options);
    await press('Take it from the shelf');
    await dialog(page).getByText(`of ${home.clay.name} weighed out.`).waitFor();
    await press('Close');
    await page.getByRole('row', { name: new RegExp(`${home.clay.name}.*1\\.2`) }).waitFor();

    await press('Note reclaim');
    await dialog(page).getByText('Keep scraps wet').waitFor();
    await dialog(page).getByLabel('What', { exact: true }).selectOption({ label: home.clay.name });
    await write('How much', '300 g');
    await expectFine(page, options);
    await press('Put it on the shelf');
    await dialog(page).getByText('put on the shelf again.').waitFor();
    const { items } = (await owner.get(`/api/courses/${course.id}/draws`)).json();
    expect(items).toMatchObject([{ quantity: 1200, sessionId: course.sessions[0]?.id }]);
    expect((await owner.get(`/api/courses/${course.id}/reclaims`)).json().items).toMatchObject([{ quantity: 300 }]);
    await page.context().close();
  });

  test('a course that is over is completed, and who still owes is seen first', async () => {
    await clock.set('2026-03-10T09:00:00Z');
    const course = await home.addCourse({ title: `Jars ${where}` });
    const booking = await bookingFixture(owner, course.id);
    await payFor(owner, booking, booking.depositMinor);
    const before = await coursePage(course.id, options);
    expect(await before.getByRole('button', { name: 'Complete course' }).count()).toBe(0);
    await before.context().close();

    await clock.set('2026-05-06T09:00:00Z');
    const page = await coursePage(course.id, options);
    const { press, interactions } = keyboardOf(page);
    await press('Complete course');
    await dialog(page).getByText('What was billed for one booking becomes income.').waitFor();
    await dialog(page).getByText('One booking is not paid in full').waitFor();
    await dialog(page).getByText(`${booking.payerName}: £90`).waitFor();
    await expectFine(page, options);
    await press('Complete course');
    await page.locator('.toast', { hasText: `${course.title} is completed.` }).waitFor();
    expect(interactions()).toBe(2);
    expect((await owner.get(`/api/courses/${course.id}`)).json().completedOn).toBe('2026-05-06');
    await page.context().close();
  });
});
