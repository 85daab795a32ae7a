import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made } from '../support/fixtures.js';
import { browse, expectFits, expectNoSidewaysScroll, faultsOf, sessionOf } from './browser.js';

// What is set up once is changed and removed where it is listed.

const { app, db, owner } = await testApp();
const { base, open } = await browse(app);
let page: Page;
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  await home.addCourse();
  await made(owner, '/api/tariffs', {
    ...{ name: 'Day and night', validFrom: '2020-01-01' },
    bands: [
      { fromMinute: 0, toMinute: 420, perKwhMinor: '12' },
      { fromMinute: 420, toMinute: 1440, perKwhMinor: '27.4' },
    ],
  });
  await made(owner, '/api/boards', { name: 'Board 4', kind: 'wareBoard' });
  page = await open('/health', { storageState: await sessionOf(open) });
});

/** One window for all: what a page needs is loaded once. */
const at = async (path: string) => {
  await page.goto(`${base}${path}`);
  await page.locator('main section[aria-busy=false]').first().waitFor();
};

/** Opens what is so named, writes in one field, and saves. */
async function change(name: string, label: string, value: string) {
  await page.getByRole('button', { name: `Change ${name}`, exact: true }).click();
  const field = page.getByLabel(label, { exact: true });
  await field.waitFor({ state: 'attached' });
  if (!(await field.isVisible())) await page.locator('.noun-form summary').click();
  await field.fill(value);
  await page.getByRole('button', { name: 'Save', exact: true }).click();
}
const saved = (name: string) => page.getByText(`“${name}” is saved.`).waitFor();

describe('is changed on the desk, and keeps all that was not typed', () => {
  test('a room', async () => {
    const { id } = await made(owner, '/api/rooms', { name: 'Back room', benches: 4 });
    await at('/studio/rooms');
    await change('Back room', 'Places to work', '5');
    await saved('Back room');
    await page.getByRole('row', { name: /Back room 5/ }).waitFor();
    expect(await db.room.findUnique({ where: { id } })).toMatchObject({ name: 'Back room', benches: 5 });
  });

  test('a VAT rate and a refund policy', async () => {
    await at('/studio/terms');
    await change('Standard', 'Percent', '21');
    await page.getByText('“Standard” is saved.').waitFor();
    expect(Number((await db.taxRate.findFirstOrThrow({ where: { name: 'Standard' } })).percent)).toBe(21);
    await change('Courses', 'Second limit, days before', '10');
    await saved('Courses');
    const policy = (await owner.get(`/api/refund-policies/${home.refundPolicy.id}`)).json();
    expect(policy).toMatchObject({ name: 'Courses', refilledFeeMinor: 500 });
    expect(policy.tiers).toMatchObject([
      { daysBefore: 28, refundPercent: '100' },
      { daysBefore: 10, refundPercent: '50' },
    ]);
  });

  test('a tariff, with its night', async () => {
    await at('/studio/tariffs');
    await change('Day and night', 'Other price 1 per kWh', '0.3');
    await saved('Day and night');
    const bands = await db.tariffBand.findMany({ orderBy: { fromMinute: 'asc' } });
    expect(bands.map(({ fromMinute, toMinute, perKwhMinor }) => [fromMinute, toMinute, Number(perKwhMinor)])).toEqual([
      [0, 420, 12],
      [420, 1440, 30],
    ]);
  });

  test('a kiln with what it wears, a firing schedule with its segments, and a board, all on one page', async () => {
    await at('/kilns/equipment');
    expect(await page.locator('.answer').textContent()).toBe('One kiln and three firing schedules.');
    const { name } = await db.kiln.findFirstOrThrow();
    await change(name, 'Cooling, hours', '30');
    await saved(name);
    expect((await owner.get(`/api/kilns/${home.kiln.id}`)).json()).toMatchObject({
      ...{ coolingHours: 30, widthMm: 500, fillPercent: '60' },
      wearMinor: { bisque: 300, glaze: 500, lustre: 200 },
    });
    const schedule = await db.schedule.findFirstOrThrow({ where: { id: home.bisque.id } });
    await change(schedule.name, 'Segment 1, hold, min', '25');
    await saved(schedule.name);
    expect((await owner.get(`/api/schedules/${schedule.id}`)).json()).toMatchObject({
      segments: [{ ratePerHourC: 100, targetC: 1000, holdMinutes: 25 }],
    });
    await change('Board 4', 'Name', 'Board 5');
    await saved('Board 5');
    expect(await db.board.findFirst({ where: { name: 'Board 5' } })).toMatchObject({ kind: 'wareBoard' });
  });
});

test('a change of what somebody else changed meanwhile says what they changed, and only that', async () => {
  const { id } = await made(owner, '/api/refund-policies', {
    ...{ name: 'Strict', refilledFeeMinor: 500, tiers: [{ daysBefore: 30, refundPercent: '50' }] },
  });
  await at('/studio/terms');
  await page.getByRole('button', { name: 'Change Strict' }).click();
  await page.getByLabel('You keep, GBP').fill('7');
  const tiers = [
    { daysBefore: 30, refundPercent: '50' },
    { daysBefore: 7, refundPercent: '10' },
  ];
  await owner.put(`/api/refund-policies/${id}`, { name: 'Strict', refilledFeeMinor: 500, tiers });
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await page.getByText('Second limit, days before is now: 7').waitFor();
  expect(await page.getByText('You keep, GBP is now').count()).toBe(0);
  expect(await page.getByLabel('You keep, GBP').inputValue()).toBe('7');
  expect((await owner.get(`/api/refund-policies/${id}`)).json()).toMatchObject({ refilledFeeMinor: 500 });
});

describe('is removed on the desk', () => {
  test('at a press, and the keyboard goes on where another is added', async () => {
    const { id } = await made(owner, '/api/rooms', { name: 'Loft', benches: 3 });
    await at(`/studio/rooms?change=${id}`);
    await page.getByRole('heading', { name: 'Change Loft' }).waitFor();
    await page.getByRole('button', { name: 'Remove this room' }).click();
    await page.getByText('“Loft” is removed.').waitFor();
    await expect.poll(() => page.getByRole('button', { name: 'Change Loft' }).count()).toBe(0);
    const adds = page.getByRole('button', { name: 'Add a room' });
    await expect.poll(() => adds.evaluate((e) => e === document.activeElement)).toBe(true);
    expect(await db.room.count({ where: { id } })).toBe(0);
    expect(await faultsOf(page)).toEqual([]);
  });

  test.each([
    ['/studio/rooms', 'Room 1', 'Courses run or ran in "Room 1", so it stays. Rename it'],
    ['/studio/terms', 'Courses', 'Courses go by "Courses", so it stays. Rename it'],
    ['/studio/terms', 'Standard', 'is the VAT of'],
    ['/kilns/equipment', 'Kiln', 'is in firings, course plans or test tiles, so it stays. Rename it'],
  ])('except what is in use, which says what to do instead: %s %s', async (path, name, sentence) => {
    await at(path);
    await page
      .getByRole('button', { name: new RegExp(`^Change ${name}`) })
      .first()
      .click();
    await page.getByRole('button', { name: /^Remove this/ }).click();
    expect(await page.getByRole('alert').first().textContent()).toContain(sentence);
  });

  test('a supplier of whom nothing was bought', async () => {
    await made(owner, '/api/suppliers', {
      ...{ name: 'Ostlemere Clay', email: null, addressLines: [] },
      ...{ leadTimeDays: 7, carriageMinor: 0, freeFromMinor: null },
    });
    await at('/shelf/suppliers');
    await page.getByRole('button', { name: 'Change Ostlemere Clay' }).click();
    await page.getByRole('button', { name: 'Remove this supplier' }).click();
    await page.getByText('“Ostlemere Clay” is removed.').waitFor();
    expect(await db.supplier.count()).toBe(0);
  });
});

test('beside the button it says what a change does not reach', async () => {
  await at('/studio/terms');
  await page.getByRole('button', { name: 'Change Courses' }).click();
  await page.getByText('Anyone who has booked keeps the terms they booked under').waitFor();
  await page.goto(`${base}/studio/tariffs`);
  await page.getByRole('button', { name: 'Add a tariff' }).click();
  expect(await page.getByText('Firings keep what they cost').count()).toBe(0);
});

const PAGES: [string, string][] = [
  ['/studio/rooms', 'Room 1'],
  ['/studio/terms', 'Courses'],
  ['/studio/tariffs', 'Day and night'],
  ['/kilns/equipment', 'Kiln'],
  ['/kilns/equipment', 'Bisque'],
  ['/kilns/equipment', 'Board'],
];
test.each(PAGES)('%s with %s open fits a phone and a desk and is without faults', async (path, name) => {
  await page.setViewportSize({ width: 360, height: 740 });
  await page.emulateMedia({ colorScheme: 'dark' });
  await at(path);
  const opens = page.getByRole('button', { name: new RegExp(`^Change ${name}`) }).first();
  await opens.click();
  await page.locator('form.noun-form').waitFor();
  for (const more of await page.locator('.noun-form summary').all()) await more.click();
  await page.getByRole('button', { name: /^Remove this/ }).waitFor();
  await expectFits(page);
  expect(await faultsOf(page)).toEqual([]);
  await page.setViewportSize({ width: 1280, height: 900 });
  await page.emulateMedia({ colorScheme: 'light' });
  await expectNoSidewaysScroll(page);
  expect(await faultsOf(page)).toEqual([]);
  await page.getByRole('button', { name: 'Cancel' }).click();
  await expect.poll(() => opens.evaluate((e) => e === document.activeElement)).toBe(true);
});
