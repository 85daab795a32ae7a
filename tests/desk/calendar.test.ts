import type { BrowserContextOptions } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { bookingFixture } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { firingFixture } from '../support/fixtures/firings.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';
import { keyboardOf } from './keyboard.js';

const { app, owner, clock, tutorMember } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];

beforeAll(async () => {
  await clock.set('2026-04-14T09:00:00Z');
  const home = await coursesFixture(owner);
  const bowls = await home.addCourse({ title: 'Bowls' });
  await bookingFixture(owner, bowls.id, 3);
  await owner.post(`/api/sessions/${bowls.sessions[0]?.id}/moves`, {
    ...{ day: '2026-04-14', from: '19:00', until: '21:30', roomId: home.room.id, tutorIds: [tutorMember.id] },
  });
  const jars = await home.addCourse({ title: 'Jars' });
  await owner.post(`/api/sessions/${jars.sessions[1]?.id}/cancellation`, { reason: 'Mara is ill.' });
  await firingFixture(
    owner,
    { kilnId: home.kiln.id, scheduleId: home.bisque.id },
    { plannedFrom: '2026-04-20T08:00:00+01:00', plannedTo: '2026-04-22T12:00:00+01:00' },
  );
  session = await sessionOf(open);
});

describe.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('%s,', (_, options) => {
  test('a month shows its sessions and kilns, today is marked, and a press leads to a course or its register', async () => {
    const page = await open('/courses/calendar', { ...options, storageState: session });
    await page.getByText('Two sessions of two courses and one firing in April 2026.').waitFor();
    const today = page.locator('main li.is-today');
    await today.locator('time[aria-current=date]', { hasText: 'Tuesday 14 April' }).waitFor();
    await today.getByText('Test tutor, 5 of 8 left').waitFor();
    const kiln = page.locator('main .kiln-day');
    expect((await kiln.allTextContents()).map((text) => text.split(': ')[1])).toEqual([
      'bisque firing from 8:00',
      'bisque firing',
      'cold by 12:00',
    ]);
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
    await today.getByRole('link', { name: /^Register of Bowls/ }).click();
    await page.getByRole('heading', { level: 1, name: /Bowls/ }).waitFor();
    await page.goBack();
    await today.getByRole('link', { name: 'Bowls', exact: true }).click();
    await page.getByRole('heading', { level: 1, name: 'Bowls' }).waitFor();
    await page.context().close();
  });

  test('by keyboard one goes to another month and back; what is cancelled is struck out', async () => {
    const page = await open('/courses/calendar', { ...options, storageState: session });
    await page.getByText('Two sessions of two courses and one firing in April 2026.').waitFor();
    const { press } = keyboardOf(page);
    await press('May 2026');
    await page.getByText('One session of one course in May 2026.').waitFor();
    await page.locator('main s', { hasText: 'Jars' }).waitFor();
    await press('June 2026');
    await page.getByText('Nothing is planned in June 2026.').waitFor();
    if (options !== PHONE) {
      await press('List');
      await page.locator('main[aria-busy=false]').waitFor();
    }
    await press('This month');
    await page.locator('main .day-list h2, main .month-days h2', { hasText: '20 April' }).waitFor();
    expect(await page.locator('main .day-list').count()).toBeGreaterThan(0); // a list still, or again
    await page.context().close();
  });
});

test('those days of the month that are over begin closed in the list', async () => {
  await clock.set('2026-04-22T09:00:00Z');
  const page = await open('/courses/calendar', { ...PHONE, storageState: session });
  await page.getByText('Earlier this month: three days').waitFor();
  expect(await page.getByRole('link', { name: 'Bowls', exact: true }).isVisible()).toBe(false);
  await page.getByText('Earlier this month').click();
  await page.getByText('Test tutor, 3 of 8 booked').waitFor();
  await page.context().close();
  await clock.set('2026-04-14T09:00:00Z');
});
