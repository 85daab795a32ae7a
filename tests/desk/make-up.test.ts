import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { bookingFixture, payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made } from '../support/fixtures.js';
import { browse, expectFine, openAll, PHONE, sessionOf } from './browser.js';

const { app, db, owner, clock } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
  session = await sessionOf(open);
});
let interactions = 0;
beforeEach(() => {
  interactions = 0;
});
async function enter(page: Page, name: string): Promise<void> {
  interactions++;
  await page.getByRole('button', { name, exact: true }).focus();
  await page.keyboard.press('Enter');
}
/** Chooses by the first letters of a choice, as the keyboard does in a list. */
async function choose(page: Page, label: string | RegExp, letters: string): Promise<void> {
  interactions++;
  await page.getByLabel(label).focus();
  await page.keyboard.type(letters);
}
const ready = (page: Page) => page.locator('main[aria-busy=false] .answer').waitFor();
const dialog = (page: Page) => page.getByRole('dialog');

/** A course on 14 April with somebody who has paid, and another one a week later, each evening with a place for a guest. */
async function courses(title: string) {
  await clock.set('2026-03-10T09:00:00Z');
  const course = await home.addCourse({ title });
  const booking = await bookingFixture(owner, course.id);
  await payFor(owner, booking, booking.depositMinor);
  const { id: roomId } = await made(owner, '/api/rooms', { name: `Room of ${title}`, benches: 10 });
  const sessions = [
    { startsAt: '2026-04-22T19:00:00+01:00', endsAt: '2026-04-22T21:30:00+01:00', roomId },
    { startsAt: '2026-05-13T19:00:00+01:00', endsAt: '2026-05-13T21:00:00+01:00', roomId },
  ];
  const other = await home.addCourse({ title: `${title} next week`, sessions, places: 1, minimum: 1 });
  return { course, other, booking, name: booking.attendees[0]?.name ?? '' };
}

describe.each([
  ['at a desk', {}, 'Bowls'],
  ['on a phone', PHONE, 'Jars'],
] as const)('%s, by keyboard,', (_, options, title) => {
  test('who did not come makes it up elsewhere: from the register, with the letter seen first, and is on that register', async () => {
    const { course, other, booking, name } = await courses(title);
    await clock.set('2026-04-14T18:30:00Z');
    const page = await open(`/courses/${course.id}/register`, { ...options, storageState: session });
    await ready(page);
    await enter(page, `Did not come: ${name}`);
    await enter(page, `Make up elsewhere for ${name}`);
    await choose(page, /^Instead of/, `Wednesday 22 April at 19:00, ${title} next week`);
    await dialog(page).getByText(`${name} takes one place on Wednesday 22 April at 19:00`).waitFor();
    expect(await dialog(page).textContent()).toContain(`Making up a session of ${title}`);
    expect(await db.makeUp.count({ where: { bookingId: booking.id } })).toBe(0);
    await expectFine(page, options);
    await enter(page, 'Make it up there');
    await page.locator('.toast', { hasText: `${name} makes it up on Wednesday 22 April at 19:00` }).waitFor();
    expect(interactions).toBeLessThanOrEqual(4);
    await page
      .getByRole('list', { name: 'Who comes' })
      .getByText(`Makes it up on Wednesday 22 April at 19:00, in ${title} next week`)
      .waitFor();
    await expectFine(page, options);

    await page.goto(new URL(`/courses/${other.id}/register`, page.url()).href);
    await page.getByText(`Makes up ${title} of Tuesday 14 April at 19:00`).waitFor();
    await page.getByText('One person to come.').waitFor();
    await expectFine(page, options);
    await page.goto(new URL(`/courses/${other.id}`, page.url()).href);
    await page.getByText('Full: its one place is taken').waitFor();

    await page.goto(new URL(`/courses/${other.id}/register`, page.url()).href);
    await enter(page, `Take off the make-up of ${name}`);
    await dialog(page).getByText('is free again').waitFor();
    await expectFine(page, options);
    await enter(page, 'Take it off');
    await page.getByText('Nobody has booked.').waitFor();
    expect(await db.makeUp.count({ where: { bookingId: booking.id, endedAt: null } })).toBe(0);
    await page.context().close();
  });

  test('who will miss a session makes it up elsewhere: from their page', async () => {
    const { booking, name } = await courses(`${title} with lids`);
    const page = await open(`/people/${booking.payerId}`, { ...options, storageState: session });
    await ready(page);
    await openAll(page);
    await enter(page, `Make up a session ${title} with lids`);
    await choose(page, 'Session that they miss', 'Tuesday 5 May');
    await choose(page, /^Instead of/, `Wednesday 13 May at 19:00, ${title} with lids next week`);
    await dialog(page).getByText(`${name} takes one place on Wednesday 13 May at 19:00`).waitFor();
    await expectFine(page, options);
    await enter(page, 'Make it up there');
    await page.locator('.toast', { hasText: 'makes it up on Wednesday 13 May' }).waitFor();
    expect(interactions).toBeLessThanOrEqual(4);
    expect(await db.makeUp.count({ where: { bookingId: booking.id, endedAt: null } })).toBe(1);
    await page.context().close();
  });
});
