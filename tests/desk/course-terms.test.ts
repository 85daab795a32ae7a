import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { personFixture } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';

const { app, owner } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  session = await sessionOf(open);
});
const dialog = (page: Page) => page.getByRole('dialog');
const history = (page: Page) => page.getByRole('table', { name: 'What was changed' });

describe.each([
  ['at a desk', {}, 'Bowls', 'Ines Duval'],
  ['on a phone', PHONE, 'Jars', 'Oskar Lund'],
] as const)('%s,', (_, options, title, name) => {
  test('a course gets a later price, days of booking and an age; a place is booked outside them by a named act', async () => {
    const course = await home.addCourse({ title });
    await personFixture(owner, name);
    const page = await open(`/courses/${course.id}`, { ...options, storageState: session });
    await page.getByRole('button', { name: 'Edit terms' }).click();
    await dialog(page).getByLabel('Later price').fill('140');
    await dialog(page).getByLabel('Asked from this day on').fill('2026-03-01');
    await dialog(page).getByLabel('Booking opens on').fill('2026-03-20');
    await dialog(page).getByLabel('Youngest age').fill('16');
    await dialog(page).getByRole('button', { name: 'Add a concession' }).click();
    await dialog(page).getByLabel('For whom').fill('Student');
    await dialog(page).getByLabel('Price, GBP', { exact: true }).fill('90');
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
    await dialog(page).getByRole('button', { name: 'Save' }).click();
    await dialog(page).getByText('must be a day after today').first().waitFor();
    await dialog(page).getByLabel('Asked from this day on').fill('2026-04-01');
    await dialog(page).getByRole('button', { name: 'Save' }).click();
    await history(page).getByText('From 1 April 2026 the price is £140.').waitFor();
    await history(page).getByText('Concessions: Student £90.').waitFor();
    await page.getByText('£120 a place, of which £30 is the deposit. From 1 April it is £140.').waitFor();
    await page.getByText('Booking opens on 20 March. For people aged 16 or over.').waitFor();

    await page.getByRole('button', { name: 'Book a place' }).click();
    await dialog(page).getByRole('searchbox').fill(name);
    await dialog(page).getByRole('button', { name, exact: true }).click();
    await dialog(page).getByRole('alert').filter({ hasText: 'Booking opens on 20 March 2026.' }).waitFor();
    await dialog(page).getByText('Book all the same, outside the days of booking').click();
    await dialog(page).getByRole('alert').filter({ hasText: 'is for people aged 16 or over' }).waitFor();
    await dialog(page).getByText('Everyone who comes is of the age for this course').click();
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
    await dialog(page).getByRole('button', { name: 'Book this place' }).click();
    await page.locator('.toast', { hasText: `One place booked for ${name}.` }).waitFor();
    await page.goto(new URL('/courses/places', page.url()).href);
    await page.locator('.enrolment li', { hasText: title }).getByText('Booking opens on 20 March.').waitFor();
    await page.context().close();
  });
});
