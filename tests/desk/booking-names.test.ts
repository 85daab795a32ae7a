import type { BrowserContextOptions } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { bookingFixture, payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { personFixture } from '../support/fixtures.js';
import { browse, expectFine, openAll, PHONE, sessionOf } from './browser.js';
import { keyboardOf } from './keyboard.js';

const { app, db, owner, clock } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  await clock.set('2026-03-20T09:00:00Z');
  session = await sessionOf(open);
});

test.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('%s, by keyboard, somebody else comes, and a note says why', async (where, options) => {
  const course = await home.addCourse({ title: `Bowls ${where}` });
  const booking = await bookingFixture(owner, course.id, 2);
  await payFor(owner, booking, booking.depositMinor);
  const [payer = '', second = ''] = booking.attendees.map(({ name }) => name);
  const instead = await personFixture(owner, `Rhea Calder ${where}`);
  await db.person.update({ where: { id: instead.id }, data: { email: `${where.length}@example.org` } });
  const page = await open('/', { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  await openAll(page);
  const { press, write } = keyboardOf(page);
  const dialog = page.getByRole('dialog');
  await press(`Bookings on ${course.title}`);
  await dialog.getByText(second).first().waitFor();
  await expectFine(page, options);
  await press(`Change a name on ${payer}’s booking`);
  await press(second);
  await write(`Who comes instead of ${second}`, `rhea calder ${where}`);
  await dialog.getByRole('button', { name: `Rhea Calder ${where}`, exact: true }).waitFor();
  await press(`Rhea Calder ${where}`);
  await dialog.getByText(`The price and what is paid stay as they are; ${payer} still pays.`).waitFor();
  expect(await dialog.locator('.letter-preview').count()).toBe(2); // to whom it was and to whom it is
  await expectFine(page, options);
  await press('Change the name');
  await page.locator('.toast', { hasText: `Rhea Calder ${where} comes instead of ${second}.` }).waitFor();

  await press(`Bookings on ${course.title}`);
  await press(`Add a note to ${payer}’s booking`);
  await write('Note for you', 'Her sister is ill');
  await press('Add this note');
  await dialog.getByText('Her sister is ill').waitFor();
  await dialog.getByText(`${payer} and Rhea Calder ${where}`).waitFor();
  expect(await db.bookingNote.count({ where: { bookingId: booking.id } })).toBe(1);
  await page.context().close();
});
