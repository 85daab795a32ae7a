import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { namesOf } from '../../src/desk/pages/shelf/sales/people.js';
import { creditOf, priced, saleOf } from '../../src/desk/pages/shelf/sales/sale-price.js';
import type { Sale } from '../../src/studio/sales/contract.js';
import { testApp } from '../support/app.js';
import { manyPeople } from '../support/fixtures/bookings.js';
import { lotFixture, materialFixture } from '../support/fixtures/materials.js';
import { pricedFixture, saleFixture } from '../support/fixtures/sales.js';
import { personFixture, studioFixture } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';

const house = await testApp();
const { app, owner, clock } = house;
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof studioFixture>>;
let ines: { id: string; name: string };
let clay: { id: string; name: string };

beforeAll(async () => {
  home = await studioFixture(owner);
  ines = await personFixture(owner, 'Ines Duval');
  clay = await pricedFixture(owner, home.standard.id);
  session = await sessionOf(open);
});

async function sales(options: BrowserContextOptions = {}): Promise<Page> {
  const page = await open('/shelf/sales', { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  return page;
}
const latest = async (): Promise<Sale> => (await owner.get('/api/sales?limit=1')).json().items[0];
const onHand = async (): Promise<number> => (await owner.get(`/api/materials/${clay.id}`)).json().onHand;
const shown = (page: Page, text: string) => page.getByRole('status').filter({ hasText: text }).waitFor();

describe('somebody takes material home', () => {
  test('three choices, and the price stands there with its VAT before it is sold, and paid', async () => {
    const page = await sales();
    expect(await page.locator('.answer').textContent()).toBe('Nobody took any material home in the last four weeks.');
    await page.getByRole('button', { name: 'Sell it' }).click();
    expect(await page.getByRole('alert').first().textContent()).toBe('Choose who takes it home.');
    await page.getByLabel('Who takes it home?').selectOption(ines.name);
    await page.getByLabel('What?').selectOption(clay.name);
    expect(await page.getByLabel('Price for a kilogram, in GBP').inputValue()).toBe('4.20');
    await page.getByRole('button', { name: '2 kg' }).click();
    await shown(page, '£8.40, £1.40 of it VAT');
    expect(await page.locator('.going p').textContent()).toBe('In stock: 12.5\u00a0kg; 10.5\u00a0kg will be left.');
    await page.getByRole('button', { name: 'Sell it for £8.40' }).click();
    await shown(page, `Ines Duval takes 2\u00a0kg of ${clay.name} home and owes £8.40 for it.`);
    expect(await latest()).toMatchObject({ quantity: 2000, grossMinor: 840, vatMinor: 140, owedMinor: 840 });
    expect(await onHand()).toBe(10_500);
    expect(await page.locator('.answer').textContent()).toBe(
      'One sale in the last four weeks, £8.40 altogether; £8.40 for material is still owed.',
    );
    await page.getByRole('button', { name: 'Take the payment' }).click();
    await page.getByRole('button', { name: 'Take £8.40' }).click();
    await shown(page, 'Ines Duval paid £8.40.');
    expect(await page.getByRole('link', { name: /^Open receipt R-/ }).count()).toBe(1);
    await expect.poll(() => page.locator('.sales td[data-head="Paid"]').first().textContent()).toBe('paid');
    await page.context().close();
  });

  test('a part comes back: what that does to the money is said first, and the money goes back as told', async () => {
    const page = await sales();
    await page.getByRole('button', { name: 'Take back' }).first().click();
    const much = page.getByLabel(`How much of ${clay.name}`);
    expect(await much.inputValue()).toBe('2 kg');
    await much.fill('3 kg');
    expect(await page.getByRole('alert').textContent()).toBe('Write up to 2 kg: that is what they still have.');
    await much.fill('500 g');
    await shown(page, '£2.10 that was paid goes back');
    await page.getByLabel('By card').check();
    await page.getByRole('button', { name: 'Put it back on the shelf' }).click();
    await shown(page, `500\u00a0g of ${clay.name} came back from Ines Duval.`);
    expect(await latest()).toMatchObject({ keptQuantity: 1500, creditedMinor: 210, paidMinor: 630, owedMinor: 0 });
    expect(await onHand()).toBe(11_000);
    expect(await page.getByRole('link', { name: 'Credit note' }).count()).toBe(1);
    await page.context().close();
  });

  test('what has no price yet is priced where it is sold, and kept for the next time', async () => {
    const brush = await materialFixture(owner, { kind: 'consumable', unit: 'piece', packQuantity: 10 });
    await lotFixture(owner, brush.id, { quantity: 2, costMinor: 400 });
    const page = await sales();
    await page.getByLabel('What?').selectOption(brush.name);
    await page.getByLabel('Price for a piece, in GBP').fill('4,50');
    await page.getByLabel('How is it taxed?').selectOption('Standard');
    await page.getByRole('button', { name: `Save this as the price of ${brush.name}` }).click();
    await shown(page, `${brush.name} is sold at that from now on.`);
    expect((await owner.get(`/api/materials/${brush.id}/selling-price`)).json()).toEqual({
      ...{ priceMinor: 450, taxRateId: home.standard.id },
    });
    await page.getByLabel('Who takes it home?').selectOption(ines.name);
    await page.getByRole('button', { name: '3', exact: true }).click();
    expect(await page.locator('.going p').textContent()).toContain('Only 2\u00a0pieces in stock');
    await page.getByRole('button', { name: 'Sell it for £13.50' }).click();
    await page.getByRole('link', { name: 'Count it' }).waitFor();
    expect(await latest()).toMatchObject({ quantity: 3, grossMinor: 1350 });
    await page.context().close();
  });

  test('it stands by a proper word on the page of who owes', async () => {
    const page = await open('/money', { storageState: session });
    await page.locator('main[aria-busy=false] .answer').waitFor();
    expect(await page.locator('#by-kind').textContent()).toContain('Material taken home');
    await page.context().close();
  });
});

test('of more than 50 sales the latest are shown, and the rest is one press away; what is owed counts all', async () => {
  const { db } = house;
  const before = (await db.sale.findMany()).length;
  for (let i = before; i < 53; i++) await saleFixture(owner, ines.id, clay.id, { quantity: 100 });
  await clock.set('2026-05-20T09:00:00Z'); // none of them is of the last four weeks
  const page = await sales();
  expect(await page.locator('.sales tbody tr').count()).toBe(50);
  expect(await page.getByText('The latest 50 sales are shown; there are earlier ones.').count()).toBe(1);
  const debts: { charges: { owedMinor: number }[] }[] = (await owner.get('/api/debtors')).json().items;
  const owed = debts.flatMap(({ charges }) => charges).reduce((sum, { owedMinor }) => sum + owedMinor, 0);
  expect(await page.locator('.answer').textContent()).toContain(`£${(owed / 100).toFixed(2)} for material`);
  await page.getByRole('button', { name: 'Show more' }).click();
  await page.locator('.sales tbody tr').nth(52).waitFor();
  expect(await page.getByRole('button', { name: 'Show more' }).count()).toBe(0);
  await clock.set('2026-03-10T09:00:00Z');
  await page.context().close();
});

describe('whom it is sold to', () => {
  const person = (n: number, name: string) => ({ id: String(n), name, email: `s${n}@studio.example` });

  test('is found by the server, of whom a page has not all, and stays chosen whatever is looked for next', async () => {
    await manyPeople(house.db, 60);
    const zoe = await personFixture(owner, 'Zoë Park');
    const page = await sales();
    const who = page.getByLabel('Who takes it home?');
    const names = () => who.locator('option').allTextContents();
    expect(await names()).toHaveLength(51); // with "Choose"
    await page.getByText('The first 50 by name are below. Type a name, email or phone.').waitFor();
    await page.getByRole('searchbox', { name: 'Find a person' }).fill('park zoe');
    await expect.poll(names).toEqual(['Choose', 'Zoë Park']);
    await page.getByText('One person found, below.').waitFor();
    await who.selectOption('Zoë Park');
    await page.getByRole('searchbox', { name: 'Find a person' }).fill('nobody by that name');
    await page.getByText('Nobody is found by that. Type fewer letters.').waitFor();
    expect(await names()).toEqual(['Choose', 'Zoë Park']);
    expect(await who.inputValue()).toBe(zoe.id);
    await page.context().close();
  });

  test('has an email beside the name where two have the same', () => {
    const called = namesOf([person(1, 'Ana'), person(2, 'Ana'), person(3, 'Ben')]).map((one) => one.called);
    expect(called).toEqual(['Ana, s1@studio.example', 'Ana, s2@studio.example', 'Ben']);
  });
});

describe('a sale as it is typed', () => {
  const typed = { personId: 'p', materialId: 'm', quantity: '150 ml', price: '23.95', taxRateId: 't' };
  const at = { currency: 'GBP', isRegistered: true };
  const standard = { kind: 'standard', percent: '20' } as const;

  test('is priced to the penny, rounded once, with the VAT that is inside where the studio is registered', () => {
    expect(priced(typed, { unit: 'ml' }, standard, at)).toEqual({
      ...{ quantity: 150, priceMinor: 2395, grossMinor: 359, vatMinor: 60 },
    });
    expect(priced(typed, { unit: 'ml' }, standard, { ...at, isRegistered: false })?.vatMinor).toBe(0);
    expect(priced(typed, { unit: 'ml' }, { kind: 'exempt', percent: null }, at)?.vatMinor).toBe(0);
    expect(priced({ ...typed, price: '' }, { unit: 'ml' }, standard, at)).toBeNull();
    expect(priced({ ...typed, quantity: '2 kg' }, { unit: 'ml' }, standard, at)).toBeNull();
  });

  test('says what is missing or wrong, each at its place', () => {
    const nothing = { personId: '', materialId: '', quantity: '', price: '', taxRateId: '' };
    expect(Object.keys((saleOf(nothing, undefined, 'GBP') as { faults: object }).faults).sort()).toEqual([
      ...['materialId', 'personId', 'price', 'quantity', 'taxRateId'].filter((field) => field !== 'quantity'),
    ]);
    const faults = (quantity: string, price: string) => saleOf({ ...typed, quantity, price }, { unit: 'ml' }, 'GBP');
    expect(faults('2 kg', '1')).toEqual({ faults: { quantity: expect.stringContaining('counted in ml or l') } });
    expect(faults('0', '0')).toMatchObject({ faults: { quantity: expect.any(String), price: expect.any(String) } });
    expect(faults('1 l', '0.005')).toEqual({ faults: { price: expect.stringContaining('more decimals') } });
    expect(saleOf(typed, { unit: 'ml' }, 'GBP')).toEqual({
      body: { personId: 'p', materialId: 'm', quantity: 150, priceMinor: 2395, taxRateId: 't' },
    });
  });

  test('what comes back is first no longer asked for, then paid back', () => {
    const sale = { unit: 'g', priceMinor: 420, keptQuantity: 2000, owedMinor: 240 } as const;
    expect(creditOf(sale, 500)).toEqual({ unpaidMinor: 210, refundMinor: 0 });
    expect(creditOf(sale, 1500)).toEqual({ unpaidMinor: 240, refundMinor: 390 });
  });
});

describe.each(['light', 'dark'] as const)('in %s', (colorScheme) => {
  test.each([
    ['on a desk', {}],
    ['on a phone', PHONE],
  ])('axe finds nothing %s and nothing scrolls sideways', async (_where, options) => {
    await saleFixture(owner, ines.id, clay.id, { quantity: 500 });
    const page = await sales({ ...options, colorScheme });
    await page.getByLabel('What?').selectOption(clay.name);
    await page.getByRole('button', { name: '5 kg' }).click();
    await page.getByRole('button', { name: 'Take back' }).first().click();
    await page.getByRole('button', { name: 'Take a payment' }).first().click();
    await page.getByRole('button', { name: 'Take £2.10' }).waitFor();
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
    else expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(1280);
    await page.context().close();
  });
});
