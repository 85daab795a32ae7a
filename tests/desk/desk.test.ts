import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { Decimal, formatMoney, formatMoneyInText, roundHalfUp } from '../../src/trade/money/money.js';
import { testApp } from '../support/app.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, openAll, PHONE, signIn } from './browser.js';

const { app, owner } = await testApp();
const { base, elsewhere, open } = await browse(app);
let courseId: string;
let session: BrowserContextOptions['storageState'];

beforeAll(async () => {
  const home = await coursesFixture(owner);
  const lot = (materialId: string, quantity: number, costMinor: number) =>
    made(owner, `/api/materials/${materialId}/lots`, {
      supplier: 'Ostlemere Clays',
      receivedOn: '2026-03-02',
      quantity,
      costMinor,
    });
  await lot(home.clay.id, 100_000, 9000);
  await lot(home.glaze.id, 10_000, 8000);
  const bands = [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }];
  await made(owner, '/api/tariffs', { name: 'Day', validFrom: '2026-01-01', bands });
  courseId = (await home.addCourse()).id;
  const page = await open('/sign-in');
  await signIn(page);
  await page.waitForURL(`${base}/`);
  session = await page.context().storageState();
});

/** The price page, signed in; guessing passwords is slowed down, so that one sign-in serves the whole file. */
async function priced(options: BrowserContextOptions = {}): Promise<Page> {
  const page = await open(`/courses/price/${courseId}`, { ...options, storageState: session });
  await page.getByRole('heading', { name: /What must “Two mugs” cost/ }).waitFor();
  await openAll(page);
  return page;
}

async function studioPage(options: BrowserContextOptions = {}): Promise<Page> {
  const page = await open('/studio', { ...options, storageState: session });
  await page.getByRole('button', { name: 'Save the studio' }).waitFor();
  return page;
}

const inPounds = (text: string | null) => new Decimal((text ?? '').replace('−', '-').replace(/[^\d.-]/g, ''));

test('an address at which nothing is shows the way back', async () => {
  const page = await open('/no/such/place', { storageState: session });
  await page.getByText('This page doesn’t exist.').waitFor();
  await page.getByRole('link').first().click();
  await page.waitForURL(`${base}/`);
});

test('a tutor who opens the studio’s figures is told that they are the owner’s, and finds the way back', async () => {
  const page = await open('/sign-in?then=/studio');
  await signIn(page, undefined, 'tutor@example.org');
  await page.waitForURL(`${base}/studio`);
  await page.getByText('Only an owner sees and changes the studio’s figures.').waitFor();
  expect(await faultsOf(page)).toEqual([]);
  await page.getByRole('main').getByRole('link', { name: 'Today' }).click();
  await page.waitForURL(`${base}/`);
});

describe('signing in', () => {
  test('is asked for first, refuses a wrong password, and leads back', async () => {
    const page = await open(`/courses/price/${courseId}`);
    await page.waitForURL(/\/sign-in/);
    await signIn(page, 'not the password');
    await page.getByRole('alert').waitFor();
    expect(await page.getByRole('alert').textContent()).toContain('Check both');
    await signIn(page);
    await page.waitForURL(`${base}/courses/price/${courseId}`);
    await page.getByRole('button', { name: /Sign out Test owner/ }).click();
    await page.waitForURL(/\/sign-in/);
    await page.context().close();
  });

  test('leads to no other site', async () => {
    const page = await open('/sign-in?then=//evil.example/');
    await signIn(page);
    await page.waitForURL(`${base}/`);
    await page.context().close();
  });

  test('says why it cannot work over plain HTTP from another machine, and only there', async () => {
    const page = await open(`${elsewhere}/sign-in`);
    expect(await page.getByRole('alert').textContent()).toMatch(/^Signing in can’t work here.*HTTPS/);
    expect(await page.locator('form, input').count()).toBe(0);
    await page.context().close();
    const near = await open('/sign-in');
    await near.getByRole('button', { name: 'Sign in' }).waitFor();
    expect(await near.getByRole('alert').count()).toBe(0);
    await near.context().close();
  });

  test('is asked for again when it has ended, and nothing is kept', async () => {
    const page = await open(`/courses/price/${courseId}`, { storageState: session });
    await page.getByRole('button', { name: /Save today/ }).waitFor();
    await page.context().clearCookies();
    await page.getByRole('button', { name: /Save today/ }).click();
    await page.waitForURL(`${base}/sign-in?then=${encodeURIComponent(`/courses/price/${courseId}`)}`);
    await page.context().close();
  });
});

describe('the price page', () => {
  test('answers as the API does, and every number of the picture stands in a table', async () => {
    const page = await priced();
    const { result, priceMinor } = (await owner.get(`/api/courses/${courseId}/price`)).json();
    const money = (minor: number) => formatMoney(minor, 'GBP', 'en-GB');
    const inText = (minor: number) => formatMoneyInText(minor, 'GBP', 'en-GB');
    const answer = await page.locator('.answer').textContent();
    expect(answer).toContain(`Ask ${inText(result.fairPriceMinor)} a place`);
    expect(answer).toContain(`old today at ${inText(priceMinor)}`);
    const left = await page.locator('.rungs td[data-head="Left over"]').allTextContents();
    expect(left).toEqual(result.ladder.map((rung: { resultMinor: string }) => money(roundHalfUp(rung.resultMinor))));
    expect(await page.title()).toContain('Two mugs');
    await page.context().close();
  });

  test('its columns add up before one’s eyes whatever is tried, and what is assumed says so', async () => {
    const page = await priced();
    const tables = await page.locator('table.lines').all();
    expect(tables).toHaveLength(2);
    for (const name of ['Clay costs', 'Glaze costs', 'A firing costs', 'Your hour']) {
      await page.getByLabel(name, { exact: true }).focus();
      for (let i = 0; i < 5; i++) {
        await page.keyboard.press('ArrowRight');
        for (const table of tables) {
          const amounts = (await table.locator('td[data-head="= amount"]').allTextContents()).map(inPounds);
          const together = amounts.pop();
          expect(Decimal.sum(...amounts).toFixed(2)).toBe(together?.toFixed(2));
        }
      }
    }
    expect(await tables[0]?.textContent()).toContain('Assumption.');
    expect(await page.locator('.workings').textContent()).toContain('How many come: assumption.');
    await page.context().close();
  });

  test('answers a slider at once, without asking the server, and goes back', async () => {
    const page = await priced();
    const before = await page.locator('.answer').textContent();
    expect(await page.locator('.tried-out').count()).toBe(0);
    await expect.poll(() => page.workers().length).toBe(1); // what the page itself asks for comes after its answer
    await page.waitForLoadState('networkidle');
    const asked: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    await page.getByLabel('Your hour', { exact: true }).focus();
    for (let i = 0; i < 12; i++) await page.keyboard.press('ArrowRight');
    await expect.poll(() => page.locator('.answer').textContent()).not.toBe(before);
    expect(asked).toEqual([]);
    const { result } = (await owner.get(`/api/courses/${courseId}/price`)).json();
    expect(await page.locator('.tried-out').textContent()).toContain(
      `the fair price is ${formatMoneyInText(result.fairPriceMinor, 'GBP', 'en-GB')}`,
    );
    await page.getByRole('button', { name: /Back to today/ }).click();
    await expect.poll(() => page.locator('.answer').textContent()).toBe(before);
    expect(await page.locator('.tried-out').count()).toBe(0);
    await page.context().close();
  });

  test('saves a price', async () => {
    const page = await priced();
    await page.getByRole('button', { name: /Save today/ }).click();
    await expect.poll(() => page.locator('.done').textContent()).toContain('Saved');
    await page.context().close();
  });

  test('is reached by the keyboard alone, from the first word to the last', async () => {
    const page = await priced();
    await page.getByRole('combobox', { name: /Find a person/ }).waitFor(); // its code comes after the page's own
    await page.locator('summary', { hasText: 'Kiln loads' }).waitFor(); // it asks the API for itself
    const all = await page.evaluate(() => {
      const controls = [...document.querySelectorAll<HTMLElement>('a[href], button, input, select, summary')];
      const shown = controls.filter((one) => one.checkVisibility()); // of what is for a phone alone nothing is reached
      for (const [i, one] of shown.entries()) one.setAttribute('data-nth', String(i));
      return shown.length;
    });
    const reached: (string | undefined)[] = [];
    for (let i = 0; i < all; i++) {
      await page.keyboard.press('Tab');
      reached.push(await page.evaluate(() => (document.activeElement as HTMLElement).dataset.nth));
    }
    expect(reached).toEqual(Array.from({ length: all }, (_, i) => String(i)));
    await page.context().close();
  });
});

describe('the studio’s page', () => {
  test('shows what is said of the studio, and saved untouched changes nothing', async () => {
    const before = (await owner.get('/api/studio')).json();
    const page = await studioPage();
    expect(await page.getByLabel('Name', { exact: true }).inputValue()).toBe(before.name);
    await page.getByRole('button', { name: 'Save the studio' }).click();
    await page.waitForURL(`${base}/`);
    expect((await owner.get('/api/studio')).json()).toEqual(before);
    await page.context().close();
  });

  test('says by the button which field is refused, and keeps what was typed', async () => {
    const page = await studioPage();
    await page.getByLabel('Time zone').fill('Potters Bar');
    await page.getByRole('button', { name: 'Save the studio' }).click();
    await page.getByRole('alert').waitFor();
    expect(await page.getByRole('alert').textContent()).toContain('Time zone: must be an IANA time zone');
    expect(await page.getByLabel('Time zone').inputValue()).toBe('Potters Bar');
    expect(await faultsOf(page)).toEqual([]);
    await page.context().close();
  });
});

test('a page that a link leads to is named, and its question takes the focus; the first one leaves it alone', async () => {
  const page = await priced();
  const focused = () => page.evaluate(() => document.activeElement?.nodeName);
  expect(await focused()).toBe('BODY');
  const destinations = [
    ['Money', /who owes/i],
    ['Shelf', /shelf|order/i],
    ['Studio', /Studio settings/],
    ['Today', /What’s on today/],
    ['Courses', /^Courses/],
  ] as const;
  for (const [link, question] of destinations) {
    const pages = page.getByRole('navigation', { name: 'Pages' });
    await pages.getByRole('link', { name: link, exact: true }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: question }).waitFor();
    await pages.getByRole('link', { name: link, exact: true }).waitFor();
    await expect.poll(focused).toBe('H1');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toMatch(question);
    await expect.poll(() => page.title()).toMatch(question);
  }
  expect(await faultsOf(page)).toEqual([]);
  await page.goBack();
  await page.getByRole('heading', { name: /What’s on today/ }).waitFor();
  await expect.poll(focused).toBe('H1');
  await page.context().close();
});

describe.each(['light', 'dark'] as const)('in %s', (colorScheme) => {
  test('axe finds nothing on any page', async () => {
    const signInPage = await open('/sign-in', { colorScheme });
    for (const page of [signInPage, await priced({ colorScheme }), await studioPage({ colorScheme })]) {
      expect(await faultsOf(page)).toEqual([]);
      await page.context().close();
    }
  });

  test('nothing scrolls sideways at 360 px, and what is touched is large enough', async () => {
    for (const show of [priced, studioPage]) {
      const page = await show({ ...PHONE, colorScheme });
      await expectFits(page);
      await page.context().close();
    }
  });
});

test('at 200 % zoom on a laptop nothing scrolls sideways', async () => {
  const page = await priced({ viewport: { width: 640, height: 400 } }); // what 1280 * 800 leaves at 200 %
  await expectFits(page);
  await page.context().close();
});
