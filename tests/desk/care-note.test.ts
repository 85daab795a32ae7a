import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { bookingFixture, payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made } from '../support/fixtures.js';
import { browse, expectFine, openAll, PHONE, sessionOf, signIn } from './browser.js';

const { app, db, owner, clock, tutorMember } = await testApp();
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
async function write(page: Page, text: string): Promise<void> {
  interactions++;
  await page.locator('dialog[open]').waitFor(); // which takes the focus as it opens
  await page.getByLabel('What should their tutor know?').focus();
  await page.keyboard.press('Control+A');
  await page.keyboard.press('Delete');
  if (text !== '') await page.keyboard.type(text);
}
const ready = (page: Page) => page.locator('main[aria-busy=false] .answer').waitFor();

/** A course this evening, which the tutor teaches, and somebody who is booked on it. */
async function thisEvening(title: string, day: string) {
  await clock.set('2026-03-10T09:00:00Z');
  const { id: roomId } = await made(owner, '/api/rooms', { name: `Room of ${title}`, benches: 10 });
  const sessions = [
    { startsAt: `${day}T19:00:00+01:00`, endsAt: `${day}T21:30:00+01:00`, roomId, tutorIds: [tutorMember.id] },
    { startsAt: '2026-05-25T19:00:00+01:00', endsAt: '2026-05-25T21:00:00+01:00', roomId },
  ];
  const course = await home.addCourse({ title, sessions });
  const booking = await bookingFixture(owner, course.id);
  await payFor(owner, booking, booking.depositMinor);
  await clock.set(`${day}T17:00:00Z`);
  return { course, booking };
}

describe.each([
  ['at a desk', {}, 'Bowls', '2026-04-14'],
  ['on a phone', PHONE, 'Jars', '2026-04-15'],
] as const)('%s, by keyboard,', (_, options, title, day) => {
  test('a note on health is added on a person’s page, changed and removed; the register of the session shows it', async () => {
    const { course, booking } = await thisEvening(title, day);
    const page = await open(`/people/${booking.payerId}`, { ...options, storageState: session });
    await ready(page);
    await enter(page, 'Add a note');
    await write(page, 'Latex allergy: no gloves.');
    await expectFine(page, options);
    await enter(page, 'Save');
    await page.getByText('Latex allergy: no gloves.').waitFor();
    expect(interactions).toBeLessThanOrEqual(3);
    await page.getByText('Who noted it').click();
    await page.getByText(/^Added by Test owner on/).waitFor();
    await expectFine(page, options);

    await page.goto(new URL(`/courses/${course.id}/register`, page.url()).href);
    await page.getByText('Please mind: Latex allergy: no gloves.').waitFor();
    await expectFine(page, options);

    await page.goto(new URL(`/people/${booking.payerId}`, page.url()).href);
    await ready(page);
    await enter(page, 'Change this note');
    await write(page, '');
    await enter(page, 'Save');
    await page.getByText('Nothing is noted.').waitFor();
    expect(await db.careNote.count({ where: { personId: booking.payerId } })).toBe(0);
    await page.context().close();
  });

  test('the tutor of the session sees it on its register, and nowhere else', async () => {
    const { course, booking } = await thisEvening(`${title} with lids`, day.replace('-1', '-2'));
    await owner.put(`/api/people/${booking.payerId}/care-note`, { careNote: 'Uses a wheelchair.' });
    const page = await open('/', options);
    await signIn(page, 'a long test password', tutorMember.email);
    await ready(page);
    await openAll(page);
    interactions++;
    await page.getByRole('link', { name: `Register of ${title} with lids` }).click();
    await page.getByText('Please mind: Uses a wheelchair.').waitFor();
    await expectFine(page, options);
    await page.getByLabel('Session').selectOption({ index: 1 }); // a session that somebody else teaches
    await page.getByText('Please mind').waitFor({ state: 'detached' });
    await page.goto(new URL(`/people/${booking.payerId}`, page.url()).href);
    await ready(page);
    expect(await page.getByText('Health and access').count()).toBe(0);
    expect((await owner.get(`/api/courses/${course.id}/register`)).body).not.toContain('wheelchair');
    await page.context().close();
  });
});
