import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import type { CourseResults } from '../../src/studio/course-results/contract.js';
import { formatMoney } from '../../src/trade/money/money.js';
import { testApp } from '../support/app.js';
import { bookingFixture, payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made } from '../support/fixtures.js';
import { asCutShort, browse, expectFits, expectNoSidewaysScroll, faultsOf, PHONE, sessionOf } from './browser.js';

const { app, owner, clock } = await testApp();
const { base, open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let [first, second] = ['', ''];

beforeAll(async () => {
  const home = await coursesFixture(owner);
  for (const [id, costMinor] of [
    [home.clay.id, 9000],
    [home.glaze.id, 80_000],
  ] as const)
    await made(owner, `/api/materials/${id}/lots`, {
      ...{ supplier: 'Ostlemere Clays', receivedOn: '2026-03-02', quantity: 100_000, costMinor },
    });
  const bands = [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }];
  await made(owner, '/api/tariffs', { name: 'Day', validFrom: '2026-01-01', bands });
  first = (await home.addCourse()).id;
  second = (await home.addCourse({ title: 'Two mugs, again' })).id;
  for (const courseId of [first, second]) await payFor(owner, await bookingFixture(owner, courseId, 4), 48_000);
  await clock.set('2026-05-06T09:00:00Z');
  for (const courseId of [first, second]) {
    await owner.post(`/api/courses/${courseId}/draws`, { materialId: home.clay.id, quantity: 5200 });
    for (const [what, minutes] of [
      ['teaching', 285],
      ['kiln', 150],
    ] as const)
      await made(owner, `/api/courses/${courseId}/hours`, { what, minutes, on: '2026-05-05' });
    await owner.post(`/api/courses/${courseId}/completion`);
  }
  session = await sessionOf(open);
});

async function shown(options: BrowserContextOptions = {}, path = `/courses/results/${first}`): Promise<Page> {
  const page = await open(path, { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  return page;
}

const money = (minor: number) => formatMoney(minor, 'GBP', 'en-GB');
const pence = (text: string) => Number(/−?£[\d,.]+/.exec(text)?.[0].replace('−', '-').replace(/[£,.]/g, ''));

describe('what a course really cost', () => {
  test('is told of one that is not among the latest, and where the others are found', async () => {
    const page = await open('/sign-in', { storageState: session });
    await asCutShort(page, '/api/courses');
    const [latest] = (await owner.get('/api/courses?is=begun&order=firstDayLast&limit=1')).json().items;
    const other = [first, second].find((id) => id !== latest.id);
    await page.goto(`${base}/courses/results/${other}`);
    await page.locator('main[aria-busy=false] .answer').waitFor();
    expect(await page.getByLabel('Course', { exact: true }).inputValue()).toBe(other);
    expect(await page.locator('.choice option').count()).toBe(2);
    await page.getByRole('link', { name: 'Find an earlier one' }).click();
    await page.locator('.search-list[aria-busy=false]').waitFor();
    expect(new URL(page.url()).search).toBe('?when=past');
    await page.context().close();
  });

  test('is answered as the API does', async () => {
    const page = await shown();
    const was: CourseResults = (await owner.get(`/api/courses/${first}/afterwards`)).json();
    const answer = await page.locator('.answer').textContent();
    expect(answer).toContain(`“Two mugs” with four students left ${money(was.real.resultMinor)}`);
    expect(answer).toContain(`${money(Math.abs(was.differenceMinor))} better than planned`);
    expect(answer).toContain(`You got ${money(was.real.payPerHourMinor ?? 0)} an hour`);
    const unknown = await page.locator('.unknown li').allTextContents();
    expect(unknown).toHaveLength(was.unknown.length);
    expect(unknown.join()).toContain('Note what it used');
    expect(await page.locator('main').textContent()).toContain('No piece of this course is noted');
    await page.context().close();
  });

  test('its columns add up before one’s eyes, and so do the effects', async () => {
    const page = await shown();
    const table = page.getByRole('table', { name: 'Planned against actual' });
    for (const head of ['Planned', 'Actual', 'Better by']) {
      const amounts = (await table.locator(`td[data-head="${head}"]`).allTextContents()).map(pence);
      const together = amounts.pop();
      expect(amounts.length).toBeGreaterThan(4);
      expect(amounts.reduce((a, b) => a + b, 0)).toBe(together);
    }
    const better = pence((await table.locator('tfoot td[data-head="Better by"]').textContent()) ?? '');
    const effects = await page.locator('.effects .by').allTextContents();
    const signed = effects.map((text) => pence(text) * (text.endsWith('worse') ? -1 : 1));
    expect(signed.reduce((a, b) => a + b, 0)).toBe(better);
    await page.context().close();
  });

  test('is shown with what the next plan should assume, of what was measured', async () => {
    const page = await shown();
    const next = page.getByRole('table', { name: /What the next .* should assume/ });
    expect(await next.locator('tbody th').allTextContents()).toEqual([
      expect.stringMatching(/Grey body \d+, each student/),
      'Your time, teaching',
      'Your time, kiln, messages and the rest',
    ]);
    // 1139 g by the plan, 1300 g twice: (1139 + 1300 + 1300) / 3
    expect(await next.locator('tbody tr').first().locator('td[data-head="Propose"]').textContent()).toBe(
      '1,246\u00a0g',
    );
    await page.context().close();
  });

  test('begins with the latest, and changes with the choice, by the keyboard too', async () => {
    const page = await shown({}, '/courses/results');
    await page.getByLabel('Course', { exact: true }).selectOption(second);
    await page.waitForURL(`${base}/courses/results/${second}`);
    await expect.poll(() => page.locator('.answer').textContent()).toContain('Two mugs, again');
    await page.context().close();
  });

  test('knows more once time is noted on the page itself, and says at its field what is refused', async () => {
    const page = await shown();
    expect(await page.locator('.unknown').textContent()).toContain('Your time, clearing');
    await page.locator('summary', { hasText: 'Note your time' }).click();
    await page.getByLabel('For', { exact: true }).selectOption('clearing');
    const [minutes, submit] = [page.getByLabel('Minutes'), page.getByRole('button', { name: 'Note it' })];
    for (const [typed, refusal] of [
      ['an hour', 'Write whole minutes'],
      ['-5', 'Must say why'],
    ] as const) {
      await minutes.fill(typed);
      await submit.click();
      await expect.poll(() => page.locator('.hours').textContent()).toContain(refusal);
      expect(await minutes.inputValue()).toBe(typed);
      expect(await faultsOf(page)).toEqual([]);
    }
    await minutes.fill('75');
    await submit.click();
    await expect.poll(() => page.getByRole('status').textContent()).toBe('75 minutes noted.');
    expect(await page.locator('.unknown').textContent()).not.toContain('Your time, clearing');
    const { items } = (await owner.get(`/api/courses/${first}/hours`)).json();
    expect(items.at(-1)).toMatchObject({ what: 'clearing', minutes: 75, on: '2026-05-06' });
    await page.context().close();
  });

  test('of a course that does not exist it says so', async () => {
    const page = await open(`/courses/results/${crypto.randomUUID()}`, { storageState: session });
    await page.getByRole('alert').waitFor();
    expect(await page.getByRole('alert').textContent()).toContain('No course has this id');
    await page.context().close();
  });
});

describe.each(['light', 'dark'] as const)('in %s', (colorScheme) => {
  test('axe finds nothing', async () => {
    const page = await shown({ colorScheme });
    expect(await faultsOf(page)).toEqual([]);
    await page.context().close();
  });

  test('nothing scrolls sideways at 360 px, and what is touched is large enough', async () => {
    const page = await shown({ ...PHONE, colorScheme });
    await page.locator('summary', { hasText: 'Note your time' }).click();
    await expectFits(page);
    expect(await faultsOf(page)).toEqual([]);
    await page.context().close();
  });
});

test('on paper the table stands without what is for the screen', async () => {
  const page = await shown({ viewport: { width: 720, height: 1000 } });
  await page.emulateMedia({ media: 'print' });
  expect(await page.getByLabel('Course', { exact: true }).isVisible()).toBe(false);
  expect(await page.getByRole('table', { name: 'Planned against actual' }).isVisible()).toBe(true);
  await expectNoSidewaysScroll(page);
  await page.context().close();
});
