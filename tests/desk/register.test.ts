import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { bookingFixture, payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { browse, expectFits, faultsOf, openAll, PHONE, sessionOf, signIn } from './browser.js';

const { app, db, owner, clock } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
});

/** A course that begins this evening, with two people who have paid their deposits. */
async function thisEvening(title: string) {
  await clock.set('2026-03-10T09:00:00Z');
  const course = await home.addCourse({ title });
  const booking = await bookingFixture(owner, course.id, 2);
  await payFor(owner, booking, 6000);
  await clock.set('2026-04-14T17:30:00Z');
  session ??= await sessionOf(open);
  return { course, booking, sessionId: course.sessions[0]?.id ?? '' };
}

const answer = (page: Page, text: string) => page.locator('main .answer', { hasText: text }).waitFor();
const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });
const entriesOf = (sessionId: string) =>
  db.attendance.findMany({ where: { sessionId }, orderBy: { id: 'asc' } }).then((all) => all.map(({ came }) => came));

describe.each([
  ['at a desk', {}, 'Bowls'],
  ['on a phone', PHONE, 'Jars'],
] as const)('%s,', (_, options, title) => {
  test('one tap on today’s class opens its register; who came is a tap each, and a tap takes it back', async () => {
    const { booking, sessionId } = await thisEvening(title);
    const [one, other] = booking.attendees.map(({ name }) => name);
    const page = await open('/', { ...options, storageState: session });
    await page.locator('main[aria-busy=false] .answer').waitFor();
    await openAll(page);
    await page.getByRole('link', { name: `Register of ${title}` }).click();
    await page.getByRole('heading', { level: 1, name: `Register: ${title}` }).waitFor();
    await answer(page, 'Two people to come.');
    await page.getByText('£180 still to pay').waitFor();
    expect(await page.getByText('still to pay').count()).toBe(1); // with who pays, and not with each of two friends
    await button(page, `Came: ${one}`).click();
    await button(page, `Did not come: ${other}`).click();
    await answer(page, 'One person of 2 came, one person did not.');
    await expect.poll(() => entriesOf(sessionId)).toEqual([true, false]);
    expect(await button(page, `Came: ${one}`).getAttribute('aria-pressed')).toBe('true');
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);

    await button(page, `Did not come: ${other}`).click();
    await answer(page, 'One person of 2 came, one person is not noted yet.');
    await expect.poll(() => entriesOf(sessionId)).toEqual([true, false, null]);
    await page.reload();
    await answer(page, 'One person of 2 came, one person is not noted yet.');
    await page.context().close();
  });
});

test('what is noted without a connection is kept on the phone, and sent once when it is back', async () => {
  const { course, booking, sessionId } = await thisEvening('Moss plates');
  const [one, other] = booking.attendees.map(({ name }) => name);
  const page = await open(`/courses/${course.id}/register`, { ...PHONE, storageState: session });
  await answer(page, 'Two people to come.');
  await page.context().setOffline(true);
  await button(page, `Came: ${one}`).click();
  await button(page, `Came: ${other}`).click();
  await answer(page, 'Two people of 2 came.');
  await page
    .getByText('The server can’t be reached. Two taps are not sent yet. They are kept on this device')
    .waitFor();
  expect(await faultsOf(page)).toEqual([]);
  await expectFits(page);
  expect(await entriesOf(sessionId)).toEqual([]);

  await page.context().setOffline(false);
  await expect.poll(() => entriesOf(sessionId)).toEqual([true, true]);
  await page.getByText('are not sent yet').waitFor({ state: 'detached' });
  await page.context().setOffline(true);
  await button(page, `Did not come: ${other}`).click();
  await page.getByText('One tap is not sent yet. It is kept on this device').waitFor();
  await page.context().setOffline(false);
  await page.reload(); // the page was closed meanwhile: what it kept is sent as it is opened
  await answer(page, 'One person of 2 came, one person did not.');
  await expect.poll(() => entriesOf(sessionId)).toEqual([true, true, false]);
  await page.context().close();
});

test('what the server refuses is said, and not shown as noted', async () => {
  const { course, booking } = await thisEvening('Small plates');
  const [one] = booking.attendees.map(({ name }) => name);
  const page = await open(`/courses/${course.id}/register`, { storageState: session });
  await answer(page, 'Two people to come.');
  await owner.post(`/api/bookings/${booking.id}/cancellation`, { reason: 'Ill', refundMinor: 0 });
  await clock.set('2026-04-14T17:31:00Z');
  await button(page, `Came: ${one}`).click();
  await page.getByText(`was not noted: ${one} has no place on “Small plates”`.replaceAll(/[“”]/g, '"')).waitFor();
  await page.context().close();
});

test('a tutor notes who came, and sees no money', async () => {
  const { course, booking, sessionId } = await thisEvening('Lidded pots');
  const [one] = booking.attendees.map(({ name }) => name);
  const page = await open(`/courses/${course.id}/register`);
  await signIn(page, undefined, 'tutor@example.org');
  await answer(page, 'Two people to come.');
  await button(page, `Came: ${one}`).click();
  await expect.poll(() => entriesOf(sessionId)).toEqual([true]);
  expect(await page.locator('main').textContent()).not.toContain('£');
  await page.context().close();
});
