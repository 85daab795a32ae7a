import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Booking } from '../../src/studio/bookings/contract.js';
import { testApp } from '../support/app.js';
import { payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made, personFixture } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, openAll, PHONE, sessionOf } from './browser.js';

const { app, db, owner, clock } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
  await clock.set('2026-03-10T09:00:00Z');
  session = await sessionOf(open);
});

/** Keys pressed on what is before somebody, as they would count them; Tab is on the way and is not counted. */
let interactions = 0;
beforeEach(() => {
  interactions = 0;
});
async function enter(page: Page, name: string | RegExp): Promise<void> {
  interactions++;
  await page.getByRole('button', { name, exact: true }).focus();
  await page.keyboard.press('Enter');
}
/** Chooses by the first letters of a choice, as the keyboard does in a list. */
async function choose(page: Page, label: string, letters: string): Promise<void> {
  interactions++;
  await page.getByLabel(label).focus();
  await page.keyboard.type(letters);
}

async function bookingOn(title: string, paidMinor: number) {
  const course = await home.addCourse({ title });
  const { id } = await personFixture(owner, `Ines Duval of ${title}`);
  const booking = await made<Booking>(owner, `/api/courses/${course.id}/bookings`, { payerId: id, attendeeIds: [id] });
  await payFor(owner, booking, paidMinor);
  return { course, booking };
}
let rooms = 0;
async function later(title: string, priceMinor: number) {
  const { id: roomId } = await made(owner, '/api/rooms', { name: `Later room ${++rooms}`, benches: 20 });
  const sessions = [
    { startsAt: '2026-06-02T19:00:00+01:00', endsAt: '2026-06-02T21:30:00+01:00', roomId },
    { startsAt: '2026-06-23T19:00:00+01:00', endsAt: '2026-06-23T21:00:00+01:00', roomId },
  ];
  return home.addCourse({ title, sessions, priceMinor });
}
const dialog = (page: Page) => page.getByRole('dialog');
const lines = (page: Page) => dialog(page).getByRole('table', { name: 'What it comes to' }).textContent();

describe.each([
  ['at a desk', {}, 'Bowls'],
  ['on a phone', PHONE, 'Jars'],
] as const)('%s, by keyboard,', (_, options, title) => {
  test('a booking is moved from the course’s page: prices, what is carried over, what is to pay and the letters are seen first', async () => {
    const { course, booking } = await bookingOn(title, 3000);
    const to = await later(`Zest ${title}`, 15_000);
    const [letters, entries] = [await db.notice.count(), await db.journalEntry.count()];
    const page = await open(`/courses/${course.id}`, { ...options, storageState: session });
    await page.locator('main[aria-busy=false] .answer').waitFor();
    await openAll(page);
    await enter(page, `Move to another course ${title} of ${booking.payerName}`);
    await choose(page, 'New course', `Zest ${title}`);
    await dialog(page).getByText('£120 is still to pay.').waitFor();
    expect(await lines(page)).toMatch(
      /Price until now£120\.00New price£150\.00Paid so far£30\.00Carried over to the new course£30\.00.*To pay by Tuesday 19 May£120\.00/,
    );
    expect(await dialog(page).textContent()).toContain(`Moved: your place on Zest ${title}`);
    expect(await dialog(page).textContent()).toContain('eight places left');
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
    expect([await db.notice.count(), await db.journalEntry.count()]).toEqual([letters, entries]);
    await enter(page, 'Move the booking');
    await page.locator('.toast', { hasText: `has moved to Zest ${title}` }).waitFor();
    expect(interactions).toBeLessThanOrEqual(3);
    expect(await db.booking.findFirst({ where: { courseId: to.id } })).toMatchObject({ payerId: booking.payerId });
    await page.getByText(`Moved to “Zest ${title}”`, { exact: true }).waitFor();
    expect(await faultsOf(page)).toEqual([]);
    await page.context().close();
  });

  test('from a person’s page to a cheaper one: what was paid too much stays as credit, less a fee', async () => {
    const { booking } = await bookingOn(`${title} with lids`, 12_000);
    await later(`Yew ${title}`, 9000);
    const page = await open(`/people/${booking.payerId}`, { ...options, storageState: session });
    await page.locator('main[aria-busy=false] .answer').waitFor();
    await openAll(page);
    await enter(page, `Move to another course ${title} with lids`);
    await choose(page, 'New course', `Yew ${title}`);
    interactions++;
    await dialog(page)
      .getByLabel(/^Your fee for the change/)
      .focus();
    await page.keyboard.type('5');
    await dialog(page).getByText('Nothing more to pay and £25 goes back.').waitFor();
    await choose(page, 'What was paid above the new price', 'Stays');
    await dialog(page).getByText('Nothing more to pay and £25 stays as credit.').waitFor();
    expect(await lines(page)).toContain('You keep£5.00Stays as credit£25.00');
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
    await enter(page, 'Move the booking');
    await page.locator('.toast', { hasText: `has moved to Yew ${title}` }).waitFor();
    expect(interactions).toBeLessThanOrEqual(5);
    expect(await db.voucher.findFirst({ where: { buyerId: booking.payerId } })).toMatchObject({ amountMinor: 2500 });
    expect((await owner.get(`/api/bookings/${booking.id}`)).json().movedToId).not.toBeNull();
    await page.context().close();
  });
});
