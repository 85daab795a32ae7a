import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { bookingFixture } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';

const { app, db, owner } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  session = await sessionOf(open);
});

async function coursePage(title: string, options: BrowserContextOptions) {
  const course = await home.addCourse({ title });
  const booking = await bookingFixture(owner, course.id);
  const page = await open(`/courses/${course.id}`, { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  return { course, booking, page };
}
const dialog = (page: Page) => page.getByRole('dialog');
const history = (page: Page) => page.getByRole('table', { name: 'What was changed' });

async function expectFine(page: Page, options: BrowserContextOptions): Promise<void> {
  expect(await faultsOf(page)).toEqual([]);
  if (options === PHONE) await expectFits(page);
}

describe.each([
  ['at a desk', {}, 'Bowls'],
  ['on a phone', PHONE, 'Jars'],
] as const)('%s,', (_, options, title) => {
  test('a session is moved, and whom it concerns and their letters are seen first', async () => {
    const { course, booking, page } = await coursePage(title, options);
    const letters = await db.notice.count();
    await page.getByRole('button', { name: 'Move session 1', exact: true }).click();
    await dialog(page).getByText('Nothing is changed yet.').waitFor();
    await dialog(page).getByLabel('Day').fill('2026-05-06');
    await dialog(page).getByText('Session 2 comes after it').waitFor();
    await dialog(page).getByLabel('Day').fill('2026-04-16');
    await dialog(page).getByLabel('Reason, as the letter says it').fill('Mara is ill on Tuesday.');
    await dialog(page).getByRole('list', { name: 'Whom it concerns' }).getByText(booking.payerName).waitFor();
    await dialog(page).getByText('Mara is ill on Tuesday.').waitFor();
    await expectFine(page, options);
    expect(await db.notice.count()).toBe(letters);
    await dialog(page).getByRole('button', { name: 'Move this session, send one letter' }).click();
    await page
      .locator('.toast', { hasText: `Session 1 of ${title} is on Thursday 16 April, 19:00 to 21:30.` })
      .waitFor();
    await history(page).getByText('Session 1 is now on Thursday 16 April 2026').waitFor();
    expect(await db.notice.count()).toBe(letters + 1);
    expect((await owner.get(`/api/courses/${course.id}/dates`)).json().sessions[0].startsAt).toContain('2026-04-16');
    await page.context().close();
  });

  test('its title and places are edited, and what is refused says why and loses nothing', async () => {
    const { course, page } = await coursePage(`Wide ${title}`, options);
    await page.getByRole('button', { name: 'Edit course' }).click();
    await dialog(page).getByLabel('Places').fill('0');
    await dialog(page).getByLabel('Title').fill(`Large ${title}`);
    await dialog(page).getByRole('button', { name: 'Save' }).click();
    await dialog(page).getByRole('alert').waitFor();
    expect(await dialog(page).getByLabel('Title').inputValue()).toBe(`Large ${title}`);
    await dialog(page).getByLabel('Places').fill('10');
    await dialog(page).getByLabel('Note for students').fill('Bring an apron.');
    await expectFine(page, options);
    await dialog(page).getByRole('button', { name: 'Save' }).click();
    await page.getByRole('heading', { level: 1, name: `Large ${title}` }).waitFor();
    await history(page).getByText('Places: 10, before 8.').waitFor();
    await page.getByText('Bring an apron.', { exact: true }).waitFor();
    expect((await owner.get(`/api/courses/${course.id}`)).json()).toMatchObject({
      title: `Large ${title}`,
      places: 10,
    });
    await page.context().close();
  });

  test('all sessions to come get another room and tutor at once', async () => {
    const { course, page } = await coursePage(`Tall ${title}`, options);
    const loft = await made<{ id: string }>(owner, '/api/rooms', { name: `Loft for ${title}`, benches: 8 });
    await page.getByRole('button', { name: 'Change room or tutors' }).click();
    await dialog(page).getByLabel('Room').selectOption(loft.id);
    await dialog(page)
      .getByText(options === PHONE ? 'Test owner' : 'Test tutor')
      .click(); // nobody teaches twice at once
    await dialog(page).getByText('Moved: sessions of').waitFor();
    await expectFine(page, options);
    await dialog(page).getByRole('button', { name: 'Change all to come, send one letter' }).click();
    await history(page).getByText(`All sessions to come are now in Loft for ${title}.`).waitFor();
    const { sessions } = (await owner.get(`/api/courses/${course.id}/dates`)).json();
    expect(sessions.map(({ roomId }: { roomId: string }) => roomId)).toEqual([loft.id, loft.id]);
    await page.context().close();
  });
});
