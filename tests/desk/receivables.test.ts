import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { till } from '../support/fixtures/vouchers.js';
import { personFixture, studioFixture } from '../support/fixtures.js';
import { browse, expectFits, expectNoSidewaysScroll, faultsOf, PHONE, sessionOf } from './browser.js';

const house = await testApp();
const { app, db, owner } = house;
const { standard } = await studioFixture(owner);
const { ask, sell } = till(house, standard.id);
const { base, open } = await browse(app);
let session: BrowserContextOptions['storageState'];

const LATER = [{ dueOn: '2026-04-01', amountMinor: 5000 }];
const firing = (description: string) => ({ kind: 'firing' as const, description, inAdvance: false });

beforeAll(async () => {
  session = await sessionOf(open);
  const ada = await personFixture(owner, 'Ada Finch');
  const tom = await personFixture(owner, 'Tom Ashby');
  const eve = await personFixture(owner, 'Eve Lund');
  await ask(ada.id, 10_000, { description: 'Lidded jars' });
  await ask(ada.id, 5000, { description: 'Tall bottles', instalments: LATER });
  await ask(tom.id, 1250, firing('Firing 12, 3 pieces'));
  await ask(eve.id, 5000, { description: 'Wide bowls', instalments: LATER });
});

async function owes(options: BrowserContextOptions = {}): Promise<Page> {
  const page = await open('/money', { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  return page;
}

/** Tabs on until it has the keyboard, as somebody without a mouse would. */
async function tabTo(page: Page, wanted: Locator): Promise<void> {
  for (let i = 0; i < 60; i++) {
    if (await wanted.evaluate((element) => element === document.activeElement)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`The keyboard never came to ${wanted}`);
}

const paidBy = (name: string) => db.payment.findMany({ where: { person: { name } }, orderBy: { at: 'asc' } });
const amountOf = (page: Page, charge: string) => page.getByLabel(`Amount for ${charge}`);
const paying = async (name: string, options: BrowserContextOptions = {}) => {
  const page = await owes(options);
  await page.getByRole('button', { name: `Take a payment of ${name}` }).click();
  await page.getByRole('heading', { name: `What is ${name} paying?` }).waitFor();
  return page;
};

describe('the answer', () => {
  test('tells who owes, firing fees apart and what is due, and each figure opens to its charges', async () => {
    const page = await owes();
    expect(await page.locator('.answer').textContent()).toBe(
      'Three people owe £212.50; £12.50 of it is firing fees; £112.50 is due now.',
    );
    const planks = page.getByRole('list').filter({ hasText: 'Ada Finch' });
    expect(await planks.getByRole('listitem').allTextContents()).toEqual([
      'Ada Finch£100.00 due, £50.00 later',
      'Tom Ashby£12.50 due',
      'Eve Lund£50.00, not due yet',
    ]);
    const due = page.locator('.owing li').first().locator('rect.due');
    const later = page.locator('.owing li').first().locator('rect.later');
    const width = async (rect: Locator) => (await rect.boundingBox())?.width ?? 0;
    expect((await width(due)) / (await width(later))).toBeCloseTo(2, 1);

    const ada = page.getByRole('button', { name: 'Ada Finch', exact: true });
    expect(await ada.getAttribute('aria-expanded')).toBe('false');
    await ada.click();
    const lines = page.getByRole('table', { name: 'What Ada Finch owes' });
    expect(await lines.getByRole('rowheader').allTextContents()).toEqual(['Lidded jars', 'Tall bottles']);
    await page.locator('summary', { hasText: 'Firing fees' }).click();
    expect(await page.getByRole('table', { name: 'Firing fees' }).textContent()).toContain('Firing 12, 3 pieces');
    await page.context().close();
  });
});

/** How a browser lays out each of these, and what it writes before them. */
const laidOut = (cells: Locator) =>
  cells.evaluateAll((all) =>
    all.map((one) => [getComputedStyle(one).display, getComputedStyle(one, '::before').content]),
  );

describe('the table by person', () => {
  test('is a table on a desk, and on a phone a card for each, with the head before each figure', async () => {
    for (const [options, row, cell] of [
      [{}, 'table-row', ['table-cell', 'none']],
      [PHONE, 'block', ['flex', '"Due now"']],
    ] as const) {
      const page = await owes(options);
      const table = page.getByRole('table', { name: 'By person' });
      expect(await laidOut(table.locator('tbody tr').first())).toEqual([[row, 'none']]);
      expect(
        await laidOut(
          table
            .getByRole('row', { name: /Ada Finch/ })
            .locator('td')
            .first(),
        ),
      ).toEqual([cell]);
      expect(await table.locator('tfoot td').first().textContent()).toMatch(/^£/);
      await page.context().close();
    }
  });

  test('leaves out on a phone what is zero', async () => {
    const page = await owes(PHONE);
    const later = page.getByRole('table', { name: 'By person' }).locator('tbody td[data-head="Not due yet"]');
    const [shown, zero] = [later.filter({ hasText: '£50.00' }), later.filter({ hasText: '£0.00' })];
    expect(await shown.first().isVisible()).toBe(true);
    expect(await zero.first().isVisible()).toBe(false);
    await page.context().close();
  });
});

describe('taking a payment', () => {
  test('needs no mouse, from the name to the open receipt', async () => {
    const bea = await personFixture(owner, 'Bea Holm');
    await ask(bea.id, 4000, { description: 'Small dishes' });
    const page = await owes();
    await tabTo(page, page.getByRole('button', { name: 'Take a payment of Bea Holm' }));
    await page.keyboard.press('Enter');
    await tabTo(page, amountOf(page, 'Small dishes'));
    await page.keyboard.press('Control+A');
    await page.keyboard.type('15,5');
    await tabTo(page, page.getByRole('radio', { name: 'In cash' }));
    await page.keyboard.press('ArrowRight');
    await tabTo(page, page.getByRole('button', { name: 'Take £15.50' }));
    await page.keyboard.press('Enter');

    const receipt = page.getByRole('link', { name: /Open receipt R-/ });
    await receipt.waitFor();
    expect(await page.getByRole('status').textContent()).toContain('Bea Holm paid £15.50');
    await expect.poll(() => page.locator('.owing').textContent()).toContain('Bea Holm£24.50 due');
    expect(await paidBy('Bea Holm')).toMatchObject([{ amountMinor: 1550, method: 'card' }]);

    const paper = await page.context().request.get(`${base}${await receipt.getAttribute('href')}`);
    expect((await paper.body()).subarray(0, 5).toString()).toBe('%PDF-');
    await tabTo(page, receipt);
    const opened = page.context().waitForEvent('page');
    await page.keyboard.press('Enter');
    await opened;
    await page.context().close();
  });

  test('refused, says so at its field and keeps what was typed', async () => {
    const page = await paying('Tom Ashby');
    const amount = amountOf(page, 'Firing 12, 3 pieces');
    const submit = page.locator('.payment button[type=submit]');
    for (const [typed, refusal] of [
      ['twelve', '"twelve" can\'t be read as a number'],
      ['0', 'Write an amount of more than zero'],
      ['12.500', 'can be read in two ways'],
      ['12.51', 'Less than that is owed'],
    ] as const) {
      await amount.fill(typed);
      await submit.click();
      await expect.poll(() => page.getByRole('alert').textContent()).toContain(refusal);
      expect(await amount.getAttribute('aria-describedby')).toBe(await page.getByRole('alert').getAttribute('id'));
      expect(await amount.inputValue()).toBe(typed);
      expect(await faultsOf(page)).toEqual([]);
    }
    expect(await paidBy('Tom Ashby')).toEqual([]);
    await page.context().close();
  });

  test('is taken once however often the button is pressed', async () => {
    const cai = await personFixture(owner, 'Cai Rowe');
    await ask(cai.id, 3000, { description: 'Tea bowls' });
    const page = await paying('Cai Rowe');
    await amountOf(page, 'Tea bowls').fill('10');
    const answers: Promise<unknown>[] = [];
    page.on('request', (sent) => {
      if (sent.url().endsWith('/api/payments')) answers.push(sent.response());
    });
    await page.locator('form.payment').evaluate((form: HTMLFormElement) => {
      form.requestSubmit();
      form.requestSubmit();
    });
    await page.getByText('Cai Rowe paid £10.00').waitFor();
    await Promise.all(answers); // a second one, where it was sent, may still be under way
    expect(await paidBy('Cai Rowe')).toHaveLength(1);
    await page.context().close();
  });

  test('is taken once where the answer got lost and it is sent again', async () => {
    const dot = await personFixture(owner, 'Dot Vale');
    await ask(dot.id, 3000, { description: 'Egg cups' });
    const page = await paying('Dot Vale');
    await amountOf(page, 'Egg cups').fill('10');
    let lost = 0;
    await page.route('**/api/payments', async (route) => {
      if (lost++ > 0) return route.continue();
      await route.fetch(); // it arrives, and what the server says does not
      await route.abort();
    });
    const submit = page.locator('.payment button[type=submit]');
    await submit.click();
    await page.getByText('The server did not answer').waitFor();
    expect(await amountOf(page, 'Egg cups').inputValue()).toBe('10');
    await submit.click();
    await page.getByText('Dot Vale paid £10.00').waitFor();
    expect(await paidBy('Dot Vale')).toHaveLength(1);
    await page.context().close();
  });

  test('with a voucher asks for its code, and tells what is left on it', async () => {
    const fay = await personFixture(owner, 'Fay Orme');
    await ask(fay.id, 2000, { description: 'Jugs' });
    const { code } = await sell(fay.id, 5000);
    const page = await paying('Fay Orme');
    await page.getByRole('radio', { name: 'With a voucher' }).check();
    await page.getByLabel('The voucher’s code').fill('nonsense');
    await page.getByRole('button', { name: 'Take £20.00' }).click();
    await page.getByRole('alert').waitFor();
    await page.getByLabel('The voucher’s code').fill(code);
    await page.getByRole('button', { name: 'Take £20.00' }).click();
    await page.getByText('Fay Orme paid £20.00, and £30.00 is left on the voucher').waitFor();
    await page.context().close();
  });
});

test('a reminder is written to one, then to all who are due and were left in peace', async () => {
  const gil = await personFixture(owner, 'Gil Moor');
  await ask(gil.id, 2000, { description: 'Planters' });
  const remindersTo = (name: string) => db.notice.count({ where: { occasion: 'reminder', person: { name } } });
  const page = await owes();
  await page.getByRole('button', { name: 'Gil Moor', exact: true }).click();
  await page.getByRole('button', { name: 'Write Gil Moor a reminder' }).click();
  await page.getByRole('dialog').getByText('Planters').waitFor(); // the letter, before it goes
  expect(await remindersTo('Gil Moor')).toBe(0);
  await page.getByRole('button', { name: 'Send reminder' }).click();
  await page.getByText('Gil Moor is reminded of £20.').waitFor();
  await page.getByText('reminded today').waitFor();
  expect(await page.getByRole('button', { name: 'Write Gil Moor a reminder' }).count()).toBe(0);
  await page.getByRole('button', { name: /^Remind all \d+ who are due$/ }).click();
  await page.getByRole('button', { name: /^Send \d+ reminders$/ }).click();
  await page.getByText('Everyone with money due has been reminded').waitFor();
  const counts = await Promise.all(['Gil Moor', 'Ada Finch', 'Tom Ashby', 'Eve Lund'].map(remindersTo));
  expect(counts).toEqual([1, 1, 1, 0]);
  await page.context().close();
});

describe.each(['light', 'dark'] as const)('in %s', (colorScheme) => {
  test.each([
    ['on a desk', {}],
    ['on a phone', PHONE],
  ])('axe finds nothing %s and nothing scrolls sideways', async (_where, options) => {
    const page = await paying('Ada Finch', { ...options, colorScheme });
    for (const summary of await page.locator('main summary').all()) await summary.click();
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
    else await expectNoSidewaysScroll(page);
    await page.context().close();
  });
});

test('at 200 % zoom nothing scrolls sideways; on paper there is no navigation and no button', async () => {
  const page = await owes({ viewport: { width: 640, height: 400 } });
  await expectFits(page);
  await page.emulateMedia({ media: 'print' });
  expect(await page.locator('nav:visible').count()).toBe(0);
  const buttons = await page.locator('button:visible').allTextContents();
  expect(buttons.filter((text) => /payment|reminder|Sign out/i.test(text))).toEqual([]);
  expect(await page.getByRole('button', { name: 'Ada Finch', exact: true }).isVisible()).toBe(true); // her name stays
  await page.context().close();
});
