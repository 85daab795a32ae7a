import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { voucherCodeInWords } from '../../src/trade/text/voucher-code.js';
import { testApp } from '../support/app.js';
import { till } from '../support/fixtures/vouchers.js';
import { personFixture, studioFixture } from '../support/fixtures.js';
import { browse, expectFine, PHONE, sessionOf } from './browser.js';

const studio = await testApp();
const { app, db, owner, clock } = studio;
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let shop: ReturnType<typeof till>;

beforeAll(async () => {
  const { standard } = await studioFixture(owner);
  shop = till(studio, standard.id);
  session = await sessionOf(open);
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

async function at(path: string, options: BrowserContextOptions): Promise<Page> {
  const page = await open(path, { ...options, storageState: session });
  await page.locator('main[aria-busy=false]').waitFor();
  return page;
}
const dialog = (page: Page) => page.getByRole('dialog');
const inDialog = (page: Page, name: RegExp | string) => dialog(page).getByRole('button', { name, exact: true });
const toast = (page: Page, text: string) => page.locator('.toast', { hasText: text }).waitFor();
const key = async (what: Locator, pressed = 'Enter') => what.press(pressed);

describe.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('%s, by keyboard,', (where, options) => {
  test('a voucher is sold, with its letter seen first, and found again', async () => {
    const buyer = await personFixture(owner, `Ines Duval ${where}`);
    const page = await at('/money/vouchers', options);
    await key(page.getByRole('button', { name: 'Sell a voucher' }));
    await dialog(page).getByRole('searchbox').fill(`duval ${where}`);
    await key(inDialog(page, `Ines Duval ${where}`));
    await dialog(page).getByLabel('Worth').fill('45');
    await dialog(page).getByLabel('For whom').fill('Bo');
    await dialog(page).getByLabel('Valid until').fill('2026-12-31');
    await dialog(page).getByText('£45, valid until 31 December 2026.').waitFor();
    await expectFine(page, options);
    expect(await db.voucher.count({ where: { buyerId: buyer.id } })).toBe(0);
    await key(inDialog(page, 'Sell it for £45'));
    await toast(page, `of £45 sold to Ines Duval ${where}.`);
    const { code } = await db.voucher.findFirstOrThrow({ where: { buyerId: buyer.id } });
    await page.locator('.toast').getByRole('link', { name: 'Print the voucher' }).waitFor();
    await page
      .getByRole('link', { name: voucherCodeInWords(code) })
      .first()
      .waitFor();
    await page.getByLabel('Code, buyer or whom it is for').fill(code.slice(3, 9));
    await page.getByText('One voucher').first().waitFor();
    await expectFine(page, options);
    await page.context().close();
  });

  test('one that has expired is extended with a reason, or lapses', async () => {
    const buyer = await personFixture(owner, `Tom Ashby ${where}`);
    const { id, code } = await shop.sell(buyer.id, 5000, { validUntil: '2026-04-30' });
    await clock.set('2026-05-10T09:00:00Z');
    const page = await at(`/money/vouchers/${id}`, options);
    await page.getByText('£50 left. Expired on 30 April 2026.').waitFor();
    await expectFine(page, options);
    await key(page.getByRole('button', { name: `Extend voucher ${voucherCodeInWords(code)}` }));
    await dialog(page).getByLabel('Valid until').fill('2026-06-30');
    await dialog(page).getByLabel('Why').fill('Was ill');
    await dialog(page).getByText('£50 is left on it.').waitFor();
    await expectFine(page, options);
    await key(inDialog(page, 'Extend to 30 June 2026'));
    await page.getByText('£50 left. Valid until 30 June 2026.').waitFor();
    await page.getByRole('row', { name: /Extended.*Until 30 June 2026, by Test owner: Was ill/ }).waitFor();

    await clock.set('2026-07-10T09:00:00Z');
    await page.reload();
    await key(page.getByRole('button', { name: 'Let the rest lapse' }));
    await dialog(page).getByText('ask before you do it').waitFor();
    await expectFine(page, options);
    await key(inDialog(page, 'Let £50 lapse'));
    await page.getByText('£0 left. Lapsed.').waitFor();
    await page.context().close();
  });
});
