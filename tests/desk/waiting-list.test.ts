import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Booking } from '../../src/studio/bookings/contract.js';
import { testApp } from '../support/app.js';
import { payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made, personFixture } from '../support/fixtures.js';
import { browse, expectFine, openAll, PHONE, sessionOf } from './browser.js';

const { app, db, owner, clock } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  await clock.set('2026-03-20T09:00:00Z');
  session = await sessionOf(open);
});

async function today(options: BrowserContextOptions): Promise<Page> {
  const page = await open('/', { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  await openAll(page);
  return page;
}
const dialog = (page: Page) => page.getByRole('dialog');
const inDialog = (page: Page, button: RegExp | string) => dialog(page).getByRole('button', { name: button });
const toast = (page: Page, text: string) => page.locator('.toast', { hasText: text }).waitFor();
/** Focus and a key, as somebody without a mouse does it. */
const key = async (what: Locator, pressed = 'Enter') => what.press(pressed);

describe.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('%s, by keyboard,', (where, options) => {
  test('one of two places is cancelled, and goes to who waits', async () => {
    const course = await home.addCourse({ title: `Slab boxes ${where}`, places: 2, minimum: 1 });
    const [ana, bo] = [await personFixture(owner, `Ana Lind ${where}`), await personFixture(owner, `Bo Lind ${where}`)];
    const wish = { payerId: ana.id, attendeeIds: [ana.id, bo.id] };
    const booking = await made<Booking>(owner, `/api/courses/${course.id}/bookings`, wish);
    await payFor(owner, booking, 6000);
    await personFixture(owner, `Cleo Marsh ${where}`);

    const page = await today(options);
    await key(page.getByRole('button', { name: `Put on the waiting list of ${course.title}` }));
    await dialog(page).getByRole('searchbox').fill(`marsh ${where}`);
    await key(inDialog(page, `Cleo Marsh ${where}`));
    await dialog(page).getByLabel('Note for you').fill('only on Tuesdays');
    await expectFine(page, options);
    await key(inDialog(page, 'Put on the waiting list'));
    await toast(page, 'is on the waiting list');

    await key(page.getByRole('button', { name: `Bookings on ${course.title}` }));
    await dialog(page).getByText('No place is free to offer.').waitFor();
    await expectFine(page, options);
    await key(inDialog(page, `Cancel Ana Lind ${where}’s places`));
    await key(dialog(page).getByLabel(`Ana Lind ${where}`), 'Space');
    // 25 days before: half of the 30.00 that was paid for Bo's place
    await dialog(page).getByText('£15 goes back; you keep £15').waitFor();
    await dialog(page)
      .getByRole('row', { name: /Bo Lind.*£120\.00.*£30\.00.*£15\.00.*£15\.00/ })
      .waitFor();
    await dialog(page).getByText(`Next on the waiting list: Cleo Marsh ${where}`).waitFor();
    await expectFine(page, options);
    await key(inDialog(page, 'Cancel one place, refund £15'));
    await toast(page, `One place of Ana Lind ${where}’s booking is cancelled, and £15 goes back.`);
    expect((await owner.get(`/api/bookings/${booking.id}`)).json()).toMatchObject({
      ...{ state: 'confirmed', paidMinor: 4500 },
      attendees: [{ personId: ana.id }],
    });

    await key(page.locator('.toast').getByRole('button', { name: `Offer it to Cleo Marsh ${where}` }));
    await dialog(page).getByText('Your note: only on Tuesdays').waitFor();
    await expectFine(page, options);
    await key(inDialog(page, 'Offer one place'));
    await toast(page, `offered to Cleo Marsh ${where}`);

    await key(page.getByRole('button', { name: `Bookings on ${course.title}` }));
    await key(inDialog(page, `Book for Cleo Marsh ${where}`));
    await dialog(page).getByText('£120. The place is held until').waitFor();
    await key(inDialog(page, 'Book this place'));
    await toast(page, `One place booked for Cleo Marsh ${where}`);
    expect(await db.waitingEntry.findFirst({ where: { courseId: course.id } })).toMatchObject({ ended: 'booked' });
    await page.context().close();
  });
});
