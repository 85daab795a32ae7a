import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { bookingFixture, payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';
import { keyboardOf } from './keyboard.js';

const { app, db, owner } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  session = await sessionOf(open);
});

const table = (page: Page, name: string) => page.getByRole('table', { name, exact: true });

describe.each([
  ['at a desk', {}, 'Bowls'],
  ['on a phone', PHONE, 'Jars'],
] as const)('%s, by keyboard alone,', (_, options, title) => {
  async function coursePage(called: string) {
    const course = await home.addCourse({ title: called });
    const booking = await bookingFixture(owner, course.id);
    await payFor(owner, booking, 10_000);
    const page = await open(`/courses/${course.id}`, { ...options, storageState: session });
    await page.locator('main[aria-busy=false] .answer').waitFor();
    return { course, booking, page };
  }
  const expectFine = async (page: Page) => {
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
  };

  test('“I’m ill on Tuesday”: a session is cancelled, and its part of the price given back', async () => {
    const { booking, page } = await coursePage(title);
    const letters = await db.notice.count();
    const { press, write, interactions } = keyboardOf(page);
    const dialog = page.getByRole('dialog', { name: `Cancel session 2 of ${title}` });
    await press('Cancel session 2');
    await write('Reason, as the letter says it', 'Mara is ill on Tuesday.');
    await dialog.getByText('By its hours, it is £53.33 of the price.').waitFor();
    await dialog.getByText('No session for glazing is left. Add one, or glaze for them.').waitFor();
    await press('Give back £53.33');
    await table(page, 'Whom it concerns').getByText('in cash').waitFor();
    expect(await table(page, 'Whom it concerns').textContent()).toMatch(/£20\.00.*£33\.33/);
    await dialog.getByText('Mara is ill on Tuesday.').last().waitFor();
    await expectFine(page);
    expect(await db.notice.count()).toBe(letters);
    const button = 'Cancel this session, give back £53.33, send one letter';
    await dialog.getByRole('button', { name: button }).waitFor();
    await press(button);
    expect(interactions()).toBe(4); // open, say why, take its part, cancel
    await page
      .locator('.toast', { hasText: `Session 2 of ${title} is cancelled, and £53.33 is given back.` })
      .waitFor();
    const sessions = table(page, 'Sessions');
    await sessions.locator('s', { hasText: 'Tuesday 5 May' }).waitFor();
    await sessions.getByText('Cancelled: Mara is ill on Tuesday.').waitFor();
    expect(await page.getByRole('button', { name: /^(Move|Cancel) session 2/ }).count()).toBe(0);
    // what is left is the last: the course is cancelled instead
    expect(await page.getByRole('button', { name: 'Cancel session 1' }).count()).toBe(0);
    await expectFine(page);
    expect(await db.notice.count()).toBe(letters + 1);
    expect((await owner.get(`/api/bookings/${booking.id}`)).json()).toMatchObject({ paidMinor: 6667, owedMinor: 0 });
    await page.context().close();
  });

  test('a session is added, and what is in the way is said first', async () => {
    const { booking, page } = await coursePage(`More ${title}`);
    const letters = await db.notice.count();
    await page.getByRole('button', { name: 'Add a session' }).click();
    const dialog = page.getByRole('dialog', { name: `Add a session to More ${title}` });
    await dialog.getByLabel('Day').fill('2026-04-14');
    await dialog.getByText('Session 1 is at that time already').waitFor();
    await dialog.getByLabel('Day').fill('2026-05-12');
    await dialog.getByRole('list', { name: 'Whom it concerns' }).getByText(booking.payerName).waitFor();
    await expectFine(page);
    await dialog.getByRole('button', { name: 'Add this session, send one letter' }).click();
    const said = `More ${title} has one more session: Tuesday 12 May, 19:00 to 21:00.`;
    await page.locator('.toast', { hasText: said }).waitFor();
    await table(page, 'Sessions').getByText('Tuesday 12 May').waitFor();
    expect(await db.notice.count()).toBe(letters + 1);
    await page.context().close();
  });
});
