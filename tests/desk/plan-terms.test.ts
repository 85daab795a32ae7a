import { describe, expect, test } from 'vitest';
import { expectFits, expectNoSidewaysScroll, faultsOf, PHONE } from './browser.js';
import { planPages } from './plan-pages.js';

const { db, owner, fixture, at, read } = await planPages();

describe('a new plan', () => {
  test('takes its places from a room, and keeps what is typed after that', async () => {
    const page = await at('/courses/plans/new');
    const places = page.getByLabel('Places', { exact: true });
    expect(await places.inputValue()).toBe('8'); // there are several rooms
    await page.getByLabel('Room', { exact: true }).selectOption({ label: 'Long room' });
    expect(await places.inputValue()).toBe('10');
    await places.fill('7');
    await page.getByLabel('What do you call it?').fill('Seven in the long room');
    await page.getByRole('button', { name: 'Save plan' }).click();
    await page.getByRole('button', { name: 'Correct this plan' }).click();
    expect(await places.inputValue()).toBe('7');
    expect(await page.getByLabel('Room', { exact: true }).count()).toBe(0);
    await page.context().close();
  });

  test.each([
    ['on a desk', { viewport: { width: 1280, height: 900 } }],
    ['on a phone in the dark', { ...PHONE, colorScheme: 'dark' as const }],
  ])('pays a second tutor by the hour in sessions, and shows what that comes to %s', async (where, options) => {
    const page = await at('/courses/plans/new', options);
    const name = `By the hour ${where}`;
    await page.getByLabel('What do you call it?').fill(name);
    await page.locator('summary', { hasText: 'A second tutor' }).click();
    await page.getByLabel('A second tutor is needed').check();
    await page.getByLabel('With more students than').fill('5');
    await page.getByLabel('Their fee, GBP').fill('18.50');
    await page.getByLabel('The fee is for').selectOption({ label: 'an hour' });
    await page.getByText('£18.50 × 5 h in sessions: £92.50 for the whole course.').waitFor();
    if ('hasTouch' in options) await expectFits(page);
    else await expectNoSidewaysScroll(page);
    expect(await faultsOf(page)).toEqual([]);
    await page.getByRole('button', { name: 'Save plan' }).click();
    await page.getByRole('button', { name: 'Correct this plan' }).waitFor();
    const { id } = await db.coursePlan.findFirstOrThrow({ where: { name } });
    expect((await read(id)).secondTutor).toEqual({ feeMinor: 9250, above: 5 });
    await page.context().close();
  });
});

test('what a price still assumes is said with it, and where it is confirmed', async () => {
  const noted = await owner.post('/api/assumptions', {
    ...{ kind: 'kiln', subjectId: fixture().kiln.id, figures: ['Rated power, kW: 9'] },
  });
  expect(noted.statusCode, noted.body).toBe(201);
  const page = await at('/courses/price');
  const note = page.getByText(/An assumption: the kiln “Kiln \d+”/);
  await note.waitFor();
  expect(await faultsOf(page)).toEqual([]);
  await note.getByRole('link').click();
  await page.waitForURL(/\/studio\/start$/);
  await page.getByRole('button', { name: /is right$/ }).click();
  await page.getByRole('heading', { name: 'Assumptions' }).waitFor({ state: 'detached' });
  await page.goto(new URL('/courses/price', page.url()).href);
  await page.locator('.answer').first().waitFor();
  await page.locator('.workings').waitFor();
  expect(await page.getByText('An assumption:').count()).toBe(0);
  await page.context().close();
});
