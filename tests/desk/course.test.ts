import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Booking } from '../../src/studio/bookings/contract.js';
import { testApp } from '../support/app.js';
import { payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made, personFixture } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, openAll, PHONE, sessionOf, signIn } from './browser.js';

const { app, db, owner, tutorMember } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  session = await sessionOf(open);
});

/** A course of two sessions, the first with its tutor, on which somebody has a place and has paid the deposit. */
async function courseWithBooking(title: string) {
  const course = await home.addCourse({ title });
  const { id } = await personFixture(owner, `Ines Duval, ${title}`);
  const wish = { payerId: id, attendeeIds: [id] };
  const booking = await made<Booking>(owner, `/api/courses/${course.id}/bookings`, wish);
  await payFor(owner, booking, 3000);
  await db.sessionTutor.deleteMany(); // all these courses are at one time, and a tutor is in one place
  await db.sessionTutor.create({
    data: {
      ...{ sessionId: course.sessions[0]?.id ?? '', staffMemberId: tutorMember.id },
      ...{ startsAt: course.sessions[0]?.startsAt ?? '', endsAt: course.sessions[0]?.endsAt ?? '' },
    },
  });
  return { course, booking };
}

const heading = (page: Page, name: string) => page.getByRole('heading', { level: 1, name }).waitFor();
const part = (page: Page, name: string) => page.getByRole('table', { name, exact: true });
const ready = (page: Page) => page.locator('main[aria-busy=false] .answer').waitFor();

describe.each([
  ['at a desk', {}, 'Bowls'],
  ['on a phone', PHONE, 'Jars'],
] as const)('%s,', (_, options, title) => {
  test('a course shows its sessions, its places and who comes, and a booking is cancelled from there', async () => {
    const { course, booking } = await courseWithBooking(title);
    const page = await open('/courses', { ...options, storageState: session });
    await page.getByRole('link', { name: title, exact: true }).click();
    await heading(page, title);
    await ready(page);
    expect(await page.locator('.answer').textContent()).toBe(
      'Seven places of 8 left. Needs three students more to run (minimum 4). Begins on Tuesday 14 April at 19:00.',
    );
    const sessions = await part(page, 'Sessions').textContent();
    expect(sessions).toContain('Tuesday 14 April, 19:00 to 21:30');
    expect(sessions).toContain('Test tutor');
    expect(await part(page, 'Who comes').textContent()).toMatch(/Confirmed.*£30\.00.*£90\.00/);
    await page.getByText('£120 a place, of which £30 is the deposit.').waitFor();
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);

    await page.getByRole('button', { name: `Cancel booking ${title} of ${booking.payerName}` }).click();
    await page.getByRole('dialog').getByText('£30 goes back.').waitFor();
    await page.getByRole('dialog').getByRole('button', { name: 'Cancel booking, refund £30' }).click();
    await part(page, 'Cancelled bookings').getByText('Cancelled by the student').waitFor();
    await page.getByText('Nobody has booked yet.').waitFor();
    expect((await owner.get(`/api/courses/${course.id}/dates`)).json().placesTaken).toBe(0);
    await page.context().close();
  });
});

test('today’s next class and the find box lead to the course', async () => {
  const { course } = await courseWithBooking('Moss plates');
  const page = await open('/', { storageState: session });
  await ready(page);
  await openAll(page);
  await page.getByRole('link', { name: 'Moss plates', exact: true }).first().click();
  await heading(page, 'Moss plates');
  expect(new URL(page.url()).pathname).toBe(`/courses/${course.id}`);

  await page.goto(new URL('/people', page.url()).href);
  await page.getByRole('combobox', { name: /^Find a person/ }).fill('moss pl');
  await page.getByRole('option', { name: /^Moss plates/ }).click();
  await heading(page, 'Moss plates');
  await page.context().close();
});

test('a tutor sees who comes, and no money', async () => {
  const { course, booking } = await courseWithBooking('Lidded pots');
  const page = await open(`/courses/${course.id}`);
  await signIn(page, undefined, 'tutor@example.org');
  await heading(page, 'Lidded pots');
  await ready(page);
  await part(page, 'Who comes').getByRole('link', { name: booking.payerName }).waitFor();
  expect(await page.locator('main').textContent()).not.toContain('£');
  expect(await page.getByRole('button', { name: /Book a place|Cancel booking|Take payment/ }).count()).toBe(0);
  expect(await faultsOf(page)).toEqual([]);
  await page.context().close();
});
