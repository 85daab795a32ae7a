import type { BrowserContextOptions } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { newId } from '../../src/http/ids.js';
import type { Plan } from '../../src/studio/courses/plan-contract.js';
import { formatMoneyInText } from '../../src/trade/money/money.js';
import { comparePrices } from '../../src/trade/pricing/compare-prices.js';
import { testApp } from '../support/app.js';
import { coursesFixture, planBody } from '../support/fixtures/courses.js';
import { made } from '../support/fixtures.js';
import { asCutShort, asSecondPage, browse, expectFits, faultsOf, openAll, PHONE, sessionOf } from './browser.js';

const { app, db, owner } = await testApp();
const { base, open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let ids: { course: string; group: string; visit: string };
let dearer: Plan;

beforeAll(async () => {
  const home = await coursesFixture(owner);
  for (const { id } of [home.clay, home.glaze])
    await made(owner, `/api/materials/${id}/lots`, {
      ...{ supplier: 'Ostlemere Clays', receivedOn: '2026-03-02', quantity: 100_000, costMinor: 9000 },
    });
  const bands = [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }];
  await made(owner, '/api/tariffs', { name: 'Day', validFrom: '2026-01-01', bands });
  const addPlan = (changes: object) => made<Plan>(owner, '/api/course-plans', { ...planBody(home), ...changes });
  const group = await addPlan({ kind: 'private', groupOf: 4 });
  const visit = await addPlan({
    ...{ kind: 'openStudio', minimum: 0, pieces: [], firings: [] },
    sessions: [{ purpose: 'making', minutes: 180, prepareMinutes: 15, clearMinutes: 15 }],
  });
  dearer = await addPlan({ advertisingMinor: 9000, otherMinutes: 600 });
  const room = await made(owner, '/api/rooms', { name: 'Wheel room', benches: 8 });
  const [evening] = home.body.sessions;
  ids = {
    course: (await home.addCourse()).id,
    group: (await home.addCourse({ planId: group.id, priceMinor: 24_000, perHeadAboveMinor: 2500 })).id,
    visit: (await home.addCourse({ planId: visit.id, minimum: 0, sessions: [{ ...evening, roomId: room.id }] })).id,
  };
  session = await sessionOf(open);
});

const priced = async (id: string, options: BrowserContextOptions = {}) => {
  const page = await open(`/courses/price/${id}`, { ...options, storageState: session });
  await page.locator('.answer').waitFor();
  await openAll(page);
  return page;
};
const money = (minor: number) => formatMoneyInText(minor, 'GBP', 'en-GB');
const asked = async (id: string) => (await owner.get(`/api/courses/${id}/price`)).json();

describe('the price page', () => {
  test('tells what to ask a group and each head above, and what so many heads leave', async () => {
    const page = await priced(ids.group);
    const { result } = await asked(ids.group);
    const answer = await page.locator('.answer').textContent();
    expect(answer).toContain(`Ask ${money(result.fairPriceMinor)} for a group of up to 4 people`);
    expect(answer).toContain(`${money(result.perHeadAboveMinor)} for each above`);
    await page.getByLabel('At most').fill('6');
    expect(await page.locator('.group-what-if .outcome').textContent()).toContain(
      `they pay ${money(24_000)} to ${money(29_000)}`,
    );
    expect(await page.locator('.rungs tbody tr').count()).toBe(8);
    expect(await page.getByRole('img', { name: /^What is left over at .* for 1 to 8 people/ }).count()).toBe(1);
    await page.getByLabel('You ask the group').fill('30000');
    await page.getByLabel('Each extra person', { exact: true }).fill('3000');
    await expect
      .poll(() => page.locator('.group-what-if .outcome').textContent())
      .toContain(`they pay ${money(30_000)} to ${money(36_000)}`);
    await expect
      .poll(() => page.locator('.rungs caption').textContent())
      .toBe(`At ${money(30_000)} and ${money(3000)} for each extra person`);
    expect(await faultsOf(page)).toEqual([]);
    await page.context().close();
    const phone = await priced(ids.group, PHONE);
    await expectFits(phone);
    await phone.context().close();
  });

  test('tells what a bench and a visit cost, and how often nobody comes', async () => {
    const page = await priced(ids.visit);
    expect(await page.locator('.answer').textContent()).toContain('a bench, per visit');
    expect(await page.locator('main').textContent()).toContain('The studio is open with nobody too');
    expect(await page.getByLabel('Minimum students').count()).toBe(0);
    // the line stands between the last number that loses and the first that does not; nobody is the first of them
    const { result } = await asked(ids.visit);
    const [line, first] = await page.evaluate((carries) => {
      const middle = (of: Element | undefined) => of?.getBoundingClientRect().left ?? Number.NaN;
      const numbers = [...document.querySelectorAll('svg text.strong')];
      const at = (students: number) => numbers.find((one) => one.textContent === String(students));
      return [
        middle(document.querySelector('line.carried') ?? undefined),
        [middle(at(carries - 1)), middle(at(carries))],
      ];
    }, result.breakEvenStudents);
    expect(result.breakEvenStudents).toBeGreaterThan(1);
    expect(line).toBeGreaterThan(first?.[0] as number);
    expect(line).toBeLessThan(first?.[1] as number);
    await page.context().close();
  });

  test('offers the next courses of a long list, says so, and shows one that is not among them', async () => {
    const page = await open('/sign-in', { storageState: session });
    await asSecondPage(page, '/api/course-plans');
    await asCutShort(page, '/api/courses');
    await page.goto(`${base}/courses/price`);
    await page.locator('.answer').waitFor();
    const [next] = (await owner.get('/api/courses?is=ahead&order=firstDay&limit=1')).json().items;
    expect(await page.locator('.choice option').count()).toBe(1);
    expect(await page.getByLabel('Course', { exact: true }).inputValue()).toBe(next.id);
    expect(await page.getByRole('link', { name: 'Find a later one' }).getAttribute('href')).toBe('/courses');
    await page.goto(`${base}/courses/price/${ids.course}`);
    await page.locator('.answer').waitFor();
    await openAll(page);
    await page.getByLabel('Compare with', { exact: true }).selectOption({ label: dearer.name });
    await page.locator('.differs').waitFor();
    await page.context().close();
  });

  test('lays a plan beside the course: what differs adds up to the difference', async () => {
    const page = await priced(ids.course);
    await page.getByLabel('Compare with', { exact: true }).selectOption({ label: dearer.name });
    await page.locator('.differs').waitFor();
    const other = (await owner.get(`/api/course-plans/${dearer.id}/price`)).json();
    const { rows, firstMinor, secondMinor } = comparePrices((await asked(ids.course)).inputs, other.inputs);
    expect(secondMinor).toBeGreaterThan(firstMinor);
    expect(await page.locator('.differs :is(tbody, tfoot) tr').count()).toBe(rows.length + 1);
    const shown = await page.locator('.differs td.figures').allTextContents();
    const minor = shown.map((text) => Math.round(Number(text.replace('−', '-').replace(/[£+,]/g, '')) * 100));
    expect(minor.at(-1)).toBe(secondMinor - firstMinor);
    expect(minor.slice(0, -1).reduce((sum, part) => sum + part, 0)).toBe(secondMinor - firstMinor);
    expect(await page.locator('.both').textContent()).toContain(money(other.result.fairPriceMinor));
    expect(await faultsOf(page)).toEqual([]);
    await page.context().close();
    const phone = await priced(ids.course, PHONE);
    await phone.getByLabel('Compare with', { exact: true }).selectOption({ label: dearer.name });
    await phone.locator('.differs').waitFor();
    await expectFits(phone);
    await phone.context().close();
  });

  test('says that a saved price cannot be read, until another is saved', async () => {
    const computedAt = new Date('2026-03-09T09:00:00Z');
    await db.priceQuote.create({
      data: { id: newId(), courseId: ids.course, inputs: { version: 2 }, result: {}, computedAt },
    });
    for (const options of [{}, PHONE]) {
      const page = await priced(ids.course, options);
      expect(await page.locator('.since').textContent()).toContain('saved on 9 March 2026 can’t be read');
      expect(await faultsOf(page)).toEqual([]);
      if (options === PHONE) {
        await expectFits(page);
        await page.getByRole('button', { name: /Save today/ }).click();
        await page.getByText('you saved a fair price of').waitFor();
        expect((await asked(ids.course)).since).toMatchObject({ rows: [] });
      }
      await page.context().close();
    }
  });
});
