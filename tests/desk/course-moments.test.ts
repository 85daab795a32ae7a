import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { bookingTasks } from '../../src/studio/bookings/jobs.js';
import { testApp } from '../support/app.js';
import { bookingFixture, payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made, personFixture } from '../support/fixtures.js';
import { browse, expectFine, openAll, PHONE, sessionOf } from './browser.js';

const { app, db, owner, clock } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  session = await sessionOf(open);
});
beforeEach(async () => {
  await clock.set('2026-03-20T09:00:00Z');
  interactions = 0;
});

/** Each key that is pressed where the focus lies, and each word typed, as a person without a mouse would count them. */
let interactions = 0;
async function key(what: Locator, pressed = 'Enter'): Promise<void> {
  interactions++;
  await what.press(pressed);
}
async function type(what: Locator, text: string): Promise<void> {
  interactions++;
  await what.fill(text);
}
async function choose(what: Locator, label: string): Promise<void> {
  interactions++;
  await what.selectOption({ label });
}

async function at(path: string, options: BrowserContextOptions): Promise<Page> {
  const page = await open(path, { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  await openAll(page); // on a phone the parts of a page are closed: opening one is an interaction that is not counted here
  return page;
}
const dialog = (page: Page) => page.getByRole('dialog');
const inDialog = (page: Page, name: RegExp | string) => dialog(page).getByRole('button', { name, exact: true });

describe.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('%s, by keyboard,', (where, options) => {
  test('two of us, one a student, and half of the deposit now', async () => {
    const course = await home.addCourse({
      title: `Tall vases ${where}`,
      concessions: [{ label: 'Student', priceMinor: 9000 }],
    });
    await personFixture(owner, `Rhea Calder ${where}`);
    await personFixture(owner, `Milo Calder ${where}`);
    const page = await at('/', options);
    await key(page.getByRole('button', { name: `Book a place on ${course.title}` }));
    await type(dialog(page).getByRole('searchbox'), `rhea calder ${where}`);
    await key(inDialog(page, `Rhea Calder ${where}`));
    await key(inDialog(page, 'Add another person'));
    await type(dialog(page).getByRole('searchbox'), `milo calder ${where}`);
    await key(inDialog(page, `Milo Calder ${where}`));
    await choose(dialog(page).getByLabel(`Price for Milo Calder ${where}`), 'Student');
    await dialog(page).getByText('£210. The places are held until').waitFor();
    await expectFine(page, options);
    await key(inDialog(page, 'Book 2 places'));
    await page.locator('.toast', { hasText: 'Two places booked' }).waitFor();

    await key(page.locator('.toast').getByRole('button', { name: /^Take payment/ }));
    const amount = dialog(page).getByRole('textbox').first();
    const deposit = Number((await amount.inputValue()).replace(/[^\d.]/g, ''));
    expect(deposit).toBeGreaterThan(0);
    await type(amount, (deposit / 2).toFixed(2));
    await key(dialog(page).getByRole('radio', { name: 'Card' }), 'Space');
    await expectFine(page, options);
    await key(inDialog(page, /^Take £/));
    await page.locator('.toast', { hasText: `Rhea Calder ${where} paid` }).waitFor();
    expect(interactions).toBeLessThanOrEqual(12);
    expect(
      await page
        .locator('.toast')
        .getByRole('link', { name: /receipt/i })
        .count(),
    ).toBeGreaterThan(0);
    const booking = await db.booking.findFirstOrThrow({ where: { courseId: course.id }, include: { places: true } });
    const shown = (await owner.get(`/api/bookings/${booking.id}`)).json();
    expect(shown).toMatchObject({ priceMinor: 21_000, paidMinor: Math.round(deposit * 50), state: 'provisional' });
    await page.context().close();
  });

  test('on a Friday: what is filling, what is not, whose hold runs out, and whom to ring', async () => {
    const course = await home.addCourse({ title: `Butter dishes ${where}` });
    const full = await home.addCourse({ title: `Mugs in May ${where}`, places: 1, minimum: 1 });
    const paid = await bookingFixture(owner, course.id, 2);
    await payFor(owner, paid, 6000);
    const lost = await personFixture(owner, `Gwen Hale ${where}`);
    await made(owner, `/api/courses/${course.id}/bookings`, { payerId: lost.id, attendeeIds: [lost.id] });
    await clock.set('2026-03-24T09:00:00Z');
    await bookingTasks(db, clock.now)['release-holds']();
    const held = await personFixture(owner, `Otto Brandt ${where}`);
    await made(owner, `/api/courses/${course.id}/bookings`, { payerId: held.id, attendeeIds: [held.id] });
    await bookingFixture(owner, full.id);
    const waits = await personFixture(owner, `Suki Amano ${where}`);
    await made(owner, `/api/courses/${full.id}/waiting-list`, { personId: waits.id });

    const page = await at('/courses', options);
    await key(page.getByRole('link', { name: 'Places left' }));
    await page.getByText('need more students to run.').or(page.getByText('needs more students to run.')).waitFor();
    const one = page.getByRole('listitem').filter({ hasText: course.title });
    await one.getByText('2 booked, 1 held, 5 of 8 left.').waitFor();
    await one.getByText(/^Needs one more by Tuesday 7 April: about \d in 10/).waitFor();
    await one.getByRole('img', { name: '2 booked, 1 held, 5 of 8 left and a minimum of 4' }).waitFor();
    await key(one.getByText(/^In the end about \d of 8/));
    await one.getByText('No day of decision is set').waitFor();
    await page
      .getByRole('row', { name: new RegExp(`Otto Brandt ${where}.*${course.title}.*Thursday 26 March`) })
      .waitFor();
    await page.getByRole('row', { name: new RegExp(`Gwen Hale ${where}.*held and not paid`) }).waitFor();
    await expectFine(page, options);
    await key(page.getByRole('button', { name: `Book a place for Suki Amano ${where} on ${course.title}` }));
    await dialog(page).getByText('£120. The place is held until').waitFor();
    await key(inDialog(page, 'Book this place'));
    await page.locator('.toast', { hasText: `One place booked for Suki Amano ${where}` }).waitFor();
    await one.getByText('2 booked, 2 held, 4 of 8 left.').waitFor();
    await one.getByText('Has the four students it needs.').waitFor();
    expect(interactions).toBeLessThanOrEqual(4);
    await page.context().close();
  });
});
