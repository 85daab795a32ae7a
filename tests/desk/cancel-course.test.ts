import type { BrowserContextOptions } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { bookingFixture, payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made, personFixture } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';
import { keyboardOf } from './keyboard.js';

const { app, db, owner } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  session = await sessionOf(open);
});

describe.each([
  ['at a desk', {}, 'Bowls'],
  ['on a phone', PHONE, 'Jars'],
] as const)('%s, by keyboard alone,', (_, options, title) => {
  test('a course that two have booked is cancelled, with its refunds and letters seen first', async () => {
    const course = await home.addCourse({ title, places: 2, minimum: 2 });
    const paid = await bookingFixture(owner, course.id);
    await payFor(owner, paid, 3000);
    const waits = await personFixture(owner);
    const other = await bookingFixture(owner, course.id);
    await made(owner, `/api/courses/${course.id}/waiting-list`, { personId: waits.id });
    await owner.post(`/api/bookings/${other.id}/cancellation`, { reason: 'Ill' });
    const letters = await db.notice.count();
    const page = await open(`/courses/${course.id}`, { ...options, storageState: session });
    await page.locator('main[aria-busy=false] .answer').waitFor();

    const { press, write, interactions } = keyboardOf(page);
    await press('Cancel course');
    const dialog = page.getByRole('dialog', { name: `Cancel ${title}` });
    await dialog
      .getByText('One person has a place, one more waits. £30 goes back; £90 is no longer asked for.')
      .waitFor();
    await dialog.getByText('Off the waiting list:').waitFor();
    await write('Reason, as the letters say it', 'Only one of you has booked.');
    const refunds = dialog.getByRole('table', { name: 'What goes back' });
    expect(await refunds.textContent()).toMatch(/£90\.00.*£30\.00.*£30\.00.*in cash/);
    await dialog.getByText('Only one of you has booked.').first().waitFor({ state: 'attached' });
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
    expect(await db.notice.count()).toBe(letters);

    const button = 'Cancel course, refund £30, send two letters';
    await dialog.getByRole('button', { name: button }).waitFor();
    await press(button);
    expect(interactions()).toBe(3); // open, say why, cancel
    await page.locator('.toast', { hasText: `${title} is cancelled, and £30 goes back.` }).waitFor();
    await page.getByText(/^Cancelled on .*: Only one of you has booked\.$/).waitFor();
    await page
      .getByRole('table', { name: 'What was changed' })
      .getByText('The course is cancelled: Only one')
      .waitFor();
    expect(await page.getByRole('button', { name: /Cancel course|Edit course|Book a place|^Move/ }).count()).toBe(0);
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
    expect(await db.notice.count()).toBe(letters + 2);
    expect(await db.course.findUniqueOrThrow({ where: { id: course.id } })).toMatchObject({ cancelledFor: 'tooFew' });

    await page.goto(new URL('/courses?when=cancelled', page.url()).href);
    await page.getByRole('link', { name: title, exact: true }).waitFor();
    await page.context().close();
  });
});
