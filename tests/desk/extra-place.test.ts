import type { BrowserContextOptions } from 'playwright-core';
import { beforeAll, test } from 'vitest';
import { testApp } from '../support/app.js';
import { bookingFixture } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { personFixture } from '../support/fixtures.js';
import { browse, expectFine, PHONE, sessionOf } from './browser.js';
import { keyboardOf } from './keyboard.js';

const { app, owner, clock } = await testApp();
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
] as const)('%s, by keyboard, a full course gets one more place, which is booked', async (where, options) => {
  const course = await home.addCourse({ title: `Bowls ${where}`, places: 2, minimum: 1 });
  await bookingFixture(owner, course.id, 2);
  await personFixture(owner, `Rhea Calder ${where}`);
  const page = await open(`/courses/${course.id}`, { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  const { press, write } = keyboardOf(page);
  await press(`One more place on ${course.title}`);
  await write('Why', 'Her sister comes too');
  await expectFine(page, options);
  await press('Add one place');
  await page.locator('.toast', { hasText: 'has one more place' }).waitFor();
  await press(`Book a place on ${course.title}`);
  await write('Who comes', `rhea calder ${where}`);
  await page.getByRole('dialog').getByText(`Rhea Calder ${where}`).first().waitFor();
  await press(`Rhea Calder ${where}`);
  await page.getByRole('dialog').getByText('The place is held until').waitFor();
  await press('Book this place');
  await page.locator('.toast', { hasText: 'One place booked' }).waitFor();
  await page.getByText('One more place, 3 in all: Her sister comes too').waitFor();
  await page.context().close();
});
