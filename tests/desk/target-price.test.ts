import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { formatMoney, formatMoneyInText, roundHalfUp } from '../../src/trade/money/money.js';
import { type PriceResult, sensitivities } from '../../src/trade/pricing/course-price.js';
import { testApp } from '../support/app.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, openAll, PHONE, sessionOf } from './browser.js';

const { app, owner } = await testApp();
const { open } = await browse(app);
let courseId: string;
let session: BrowserContextOptions['storageState'];

beforeAll(async () => {
  const home = await coursesFixture(owner);
  const lot = (materialId: string, quantity: number, costMinor: number) =>
    made(owner, `/api/materials/${materialId}/lots`, {
      ...{ supplier: 'Ostlemere Clays', receivedOn: '2026-03-02' },
      ...{ quantity, costMinor },
    });
  await lot(home.clay.id, 100_000, 9000);
  await lot(home.glaze.id, 10_000, 8000);
  const bands = [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }];
  await made(owner, '/api/tariffs', { name: 'Day', validFrom: '2026-01-01', bands });
  courseId = (await home.addCourse()).id;
  session = await sessionOf(open);
});

async function priced(options: BrowserContextOptions = {}): Promise<Page> {
  const page = await open(`/courses/price/${courseId}`, { ...options, storageState: session });
  await page.locator('main details').first().waitFor();
  await openAll(page);
  return page;
}

const asked = async () => (await owner.get(`/api/courses/${courseId}/price`)).json();
const money = (minor: number | string) => formatMoney(roundHalfUp(String(minor)), 'GBP', 'en-GB');
const heard = async (page: Page, place: string) => (await page.locator(place).allTextContents()).join(' ');

describe('the price page', () => {
  test('tells what an hour brings, as the API does', async () => {
    const page = await priced();
    const { payPerHour }: PriceResult = (await asked()).result;
    const told = await heard(page, 'main > p');
    for (const pay of Object.values(payPerHour)) expect(told).toContain(money(pay));
    await page.context().close();
  });

  test('lists what the price hangs on, the greatest effect first, each with its figure', async () => {
    const page = await priced();
    const expected = sensitivities((await asked()).inputs);
    const rows = await page.locator('.hangs-on li').allTextContents();
    expect(rows).toHaveLength(expected.length);
    for (const [i, { label, change, deltaMinor }] of expected.entries()) {
      const effect = money(deltaMinor.replace('-', ''));
      expect(rows[i]).toContain(`${label} ${change}`);
      if (deltaMinor !== '0') expect(rows[i]).toContain(`${effect} ${deltaMinor.startsWith('-') ? 'less' : 'more'}`);
    }
    await page.context().close();
  });

  test('names the cheapest changes for any ceiling, by the keyboard, and what is no amount', async () => {
    const page = await priced();
    const { fairPriceMinor } = (await asked()).result;
    const ceiling = page.getByLabel('Try to get down to, in GBP');
    await ceiling.waitFor();
    await expect.poll(() => page.locator('.changes li').count()).toBeGreaterThan(2); // they are worked out beside the page
    await ceiling.focus();
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type('0.01');
    await expect.poll(() => heard(page, '.workings')).toContain('No single change brings it to £0.01.');
    await ceiling.fill(String(fairPriceMinor / 100));
    await expect
      .poll(() => heard(page, '.workings'))
      .toContain(`more than ${formatMoneyInText(fairPriceMinor, 'GBP', 'en-GB')} as it is`);
    await ceiling.fill('cheap');
    await expect.poll(() => heard(page, '.workings')).toContain('"cheap" can\'t be read as a number');
    expect(await ceiling.getAttribute('aria-invalid')).toBe('true');
    expect(await faultsOf(page)).toEqual([]);
    await page.context().close();
  });

  test('follows the sliders: the ceiling stays one step below the fair price', async () => {
    const page = await priced();
    const before = await page.getByLabel('Try to get down to').inputValue();
    await page.getByLabel('Your hour', { exact: true }).focus();
    for (let i = 0; i < 12; i++) await page.keyboard.press('ArrowRight');
    await expect.poll(() => page.getByLabel('Try to get down to').inputValue()).not.toBe(before);
    await page.context().close();
  });

  test('makes the full price up for places at a reduced one, and says what that is', async () => {
    const page = await priced();
    const { fairPriceMinor } = (await asked()).result;
    await page.getByLabel('Places at a reduced price').focus();
    for (let i = 0; i < 8; i++) await page.keyboard.press('ArrowRight');
    await expect.poll(() => heard(page, 'main > p')).toContain('A reduced price is');
    const [, full] = /Ask £(\d+(?:\.\d\d)?)/.exec(await heard(page, '.answer')) ?? [];
    expect(Number(full) * 100).toBeGreaterThan(fairPriceMinor);
    expect(await heard(page, 'main > p')).toContain(
      `is £${(Number(full) * 0.8).toFixed(2).replace(/\.00$/, '')} where the full one is £${full}`,
    );
    await expect.poll(() => heard(page, '.place')).toContain('Less what is paid at a reduced price');
    expect(await faultsOf(page)).toEqual([]);
    await page.context().close();
  });

  test.each(['light', 'dark'] as const)('in %s it fits a phone, and axe finds nothing there', async (colorScheme) => {
    const page = await priced({ ...PHONE, colorScheme });
    await expectFits(page);
    expect(await faultsOf(page)).toEqual([]);
    await page.context().close();
  });
});
