import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Booking } from '../../src/studio/bookings/contract.js';
import { testApp } from '../support/app.js';
import { payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made, personFixture } from '../support/fixtures.js';
import { browse, expectFine, openAll, PHONE, sessionOf } from './browser.js';
import { keyboardOf } from './keyboard.js';

// What an owner does most, by keyboard alone, each key pressed where Tab leads; the report says how many interactions and seconds it took.

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
const says = (page: Page, text: string | RegExp) => page.getByRole('dialog').getByText(text).first().waitFor();
const toast = (page: Page, text: string) => page.locator('.toast', { hasText: text }).waitFor();

describe.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('%s', (where, options) => {
  test('“Have you a place on Saturday?”, from somebody new and from somebody known', async ({ annotate }) => {
    const { title, id } = await home.addCourse({ title: `Bowls ${where}` });
    const page = await today(options);
    const first = keyboardOf(page);
    await first.press(`Book a place on ${title}`);
    await first.write('Who comes', `Nadia Okoro ${where}`);
    await says(page, 'Nobody is found by that.');
    await first.press(`Add “Nadia Okoro ${where}” as a new person`);
    await first.write('Email', 'nadia@example.org');
    await first.press('Add this person');
    await says(page, '£120. The place is held until');
    await says(page, /Dear Nadia Okoro/); // the letter, before it goes
    await expectFine(page, options);
    await first.press('Book this place');
    await toast(page, `One place booked for Nadia Okoro ${where}.`);
    expect(first.interactions()).toBeLessThanOrEqual(8);
    await annotate(`Moment 1, somebody new: ${first.told()}`);

    await personFixture(owner, `Zoë Brandt ${where}`);
    const again = await today(options);
    const second = keyboardOf(again);
    await second.press(`Book a place on ${title}`);
    await second.write('Who comes', 'zoe');
    await says(again, `Zoë Brandt ${where}`);
    await second.press(`Zoë Brandt ${where}`);
    await says(again, '£120. The place is held until');
    await second.press('Book this place');
    await toast(again, `One place booked for Zoë Brandt ${where}.`);
    expect(second.interactions()).toBeLessThanOrEqual(5);
    await annotate(`Moment 1, somebody known: ${second.told()}`);
    expect(await db.place.count({ where: { booking: { courseId: id } } })).toBe(2);
    await again.context().close();
    await page.context().close();
  });

  test('“I can’t come”: one of two places is cancelled, and goes to who waits', async ({ annotate }) => {
    const { title, id } = await home.addCourse({ title: `Slab boxes ${where}`, places: 2, minimum: 1 });
    const [ana, bo] = [await personFixture(owner, `Ana Lind ${where}`), await personFixture(owner, `Bo Lind ${where}`)];
    const wish = { payerId: ana.id, attendeeIds: [ana.id, bo.id] };
    const booking = await made<Booking>(owner, `/api/courses/${id}/bookings`, wish);
    await payFor(owner, booking, 6000);
    const cleo = await personFixture(owner, `Cleo Marsh ${where}`);
    await made(owner, `/api/courses/${id}/waiting-list`, { personId: cleo.id });

    const page = await today(options);
    const { press, tick, interactions, told } = keyboardOf(page);
    await press(`Bookings on ${title}`);
    await says(page, `Ana Lind ${where}`);
    await press(`Cancel Ana Lind ${where}’s places`);
    await says(page, 'goes back');
    await tick(`Ana Lind ${where}`);
    await says(page, '£15 goes back; you keep £15'); // its lines are in cancel-booking's own test
    await says(page, `Next on the waiting list: Cleo Marsh ${where}`);
    await expectFine(page, options);
    await press('Cancel one place, refund £15');
    await toast(page, 'One place of');
    await press(`Offer it to Cleo Marsh ${where}`);
    await says(page, 'is next, and would like one place');
    await press('Offer one place');
    await toast(page, `offered to Cleo Marsh ${where}`);
    expect(interactions()).toBeLessThanOrEqual(6);
    await annotate(`Moment 3: ${told()}`);
    expect(await db.waitingEntry.findFirst({ where: { courseId: id } })).toMatchObject({ ended: null });
    await page.context().close();
  });
});
