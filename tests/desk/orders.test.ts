import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { lotsOf, usualArrival } from '../../src/desk/pages/shelf/orders/delivery.js';
import type { Order } from '../../src/studio/orders/contract.js';
import { testApp } from '../support/app.js';
import { bookingFixture } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { soldBy, supplierFixture } from '../support/fixtures/suppliers.js';
import { made } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';

const { app, owner } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  await bookingFixture(owner, (await home.addCourse()).id, 4);
  const seller = await supplierFixture(owner, { freeFromMinor: 5000 });
  await soldBy(owner, home.clay.id, seller.id, [{ quantity: 12_500, priceMinor: 1760 }]);
  session = await sessionOf(open);
});

async function orders(options: BrowserContextOptions = {}): Promise<Page> {
  const page = await open('/shelf/orders', { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  return page;
}
const latest = async (): Promise<Order> => (await owner.get('/api/orders')).json().items.at(-1);
const clayOnHand = async (): Promise<number> => (await owner.get(`/api/materials/${home.clay.id}`)).json().onHand;

describe('from what is short to what is on the shelf', () => {
  test('the answer says of whom to order by when for how much, and what nobody sells', async () => {
    const page = await orders();
    const said = (await page.locator('.answer').textContent()) ?? '';
    expect(said).toMatch(/^Order from .+ (at once|today|by \w+,? \d+ \w+): £27\.10 with carriage\. /);
    expect(said).toContain(`No supplier is set for ${home.glaze.name}, which is needed.`);
    expect(said).toMatch(/Nothing is on its way\.$/);
    expect(await page.getByText('£32.40 more makes carriage free and saves £9.50').count()).toBe(1);
    await page.context().close();
  });

  test('an order is written, placed, and received in two parts, with its carriage', async () => {
    const page = await orders();
    await page.getByRole('button', { name: 'Draft order' }).click();
    await page.getByRole('status').filter({ hasText: 'is written' }).waitFor();
    expect(await page.evaluate(() => document.activeElement?.getAttribute('role'))).toBe('status');
    expect(await latest()).toMatchObject({ state: 'drafted', goodsMinor: 1760, carriageMinor: 950 });
    await page.getByRole('button', { name: 'Mark as ordered' }).click();
    await page.getByRole('status').filter({ hasText: 'is placed' }).waitFor();
    const placed = await latest();
    expect(placed.state).toBe('placed');
    expect(await page.getByRole('link', { name: 'Print order' }).getAttribute('href')).toBe(
      `/api/documents/${placed.documentId}/pdf`,
    );
    await page.getByRole('button', { name: 'Book in delivery' }).click();
    expect(await page.getByLabel('How much').inputValue()).toBe('12.5 kg');
    expect(await page.getByLabel('Billed', { exact: true }).inputValue()).toBe('17.60');
    await page.getByLabel('How much').fill('five');
    await page.getByRole('button', { name: 'Put it on the shelf' }).click();
    expect(await page.getByRole('alert').textContent()).toContain("can't be read");
    expect(await clayOnHand()).toBe(0);
    await page.getByLabel('How much').fill('5 kg');
    await page.getByLabel('Billed', { exact: true }).fill('7,04');
    await page.getByRole('button', { name: 'Put it on the shelf' }).click();
    await page.getByRole('status').filter({ hasText: 'on the shelf' }).waitFor();
    expect(await clayOnHand()).toBe(5000);
    expect((await latest()).state).toBe('partReceived');
    expect(await page.locator('.order h2').first().textContent()).toContain('a part is here; the rest due');
    await page.getByRole('button', { name: 'Book in delivery' }).click();
    expect(await page.getByLabel('How much').inputValue()).toBe('7.5 kg');
    expect(await page.getByLabel('Billed', { exact: true }).inputValue()).toBe('10.56');
    await page.getByLabel('Carriage that was billed').fill('9.50');
    await page.getByRole('button', { name: 'Put it on the shelf' }).click();
    await page.locator('summary').filter({ hasText: '1 past order' }).waitFor();
    expect(await clayOnHand()).toBe(12_500);
    const costs = (await owner.get(`/api/materials/${home.clay.id}/costs`)).json();
    expect(costs.worthMinor).toBe(704 + 1056 + 950);
    await page.context().close();
  });

  test('what was refused says why and nothing typed is lost', async () => {
    const page = await orders();
    const { supplierId } = await latest();
    const line = { materialId: home.clay.id, packQuantity: 12_500, packs: 1 };
    await owner.post('/api/orders', { supplierId, lines: [line], note: null });
    const id = (await latest()).id;
    await owner.post(`/api/orders/${id}/placing`, {});
    await page.reload();
    await page.getByRole('button', { name: 'Book in delivery' }).click();
    await page.getByLabel('Received on').fill('2199-01-01');
    await page.getByLabel('How much').fill('2 kg');
    await page.getByRole('button', { name: 'Put it on the shelf' }).click();
    expect(await page.getByRole('alert').textContent()).toContain("2199-01-01 can't be right");
    expect(await page.getByLabel('How much').inputValue()).toBe('2 kg');
    await page.getByRole('button', { name: 'Cancel', exact: true }).click();
    await page.getByRole('button', { name: 'Cancel order' }).click();
    await page.getByRole('status').filter({ hasText: 'is cancelled' }).waitFor();
    expect((await latest()).state).toBe('cancelled');
    await page.context().close();
  });
});

test('an old order that is still on its way is shown, however many are past; of those the latest, and how many more', async () => {
  const { supplierId } = await latest();
  const line = { materialId: home.clay.id, packQuantity: 12_500, packs: 1 };
  const draft = () => made<Order>(owner, '/api/orders', { supplierId, lines: [line], note: null });
  const old = await draft();
  await owner.post(`/api/orders/${old.id}/placing`, {});
  for (let i = 0; i < 51; i++) await owner.post(`/api/orders/${(await draft()).id}/cancellation`, { note: '' });
  const page = await orders();
  const onItsWay = page.locator('section', { has: page.locator('.group', { hasText: 'On its way' }) });
  expect(await onItsWay.locator('.order h2').allTextContents()).toEqual([
    expect.stringMatching(new RegExp(`^${old.number}\\.`)),
  ]);
  const past = page.locator('details', { hasText: 'past orders' });
  await past.locator('summary').click();
  expect(await past.locator('summary').textContent()).toBe('53 past orders');
  expect(await past.locator('.order').count()).toBe(50);
  expect(await past.getByText('The latest 50 of 53 are shown.').count()).toBe(1);
  await past.getByRole('button', { name: 'Show 3 more' }).click();
  await past.locator('.order').nth(52).waitFor();
  expect(await past.getByRole('button', { name: /^Show \d+ more$/ }).count()).toBe(0);
  await page.context().close();
});

describe('a delivery as it is typed', () => {
  const typed = { materialId: 'a', name: 'Clay', unit: 'g' as const };
  test('is read exactly, and what is nothing did not come', () => {
    const lines = [
      { ...typed, quantity: '12.5 kg', cost: '17.6' },
      { ...typed, materialId: 'b', quantity: '', cost: '' },
    ];
    expect(lotsOf(lines, 'GBP')).toEqual({
      lots: [{ materialId: 'a', quantity: 12_500, costMinor: 1760 }],
      faults: {},
    });
  });

  test('says what is wrong with which line', () => {
    const { faults } = lotsOf([{ ...typed, quantity: '3 l', cost: '1' }], 'GBP');
    expect(faults.a?.quantity).toContain('counted in g or kg');
    const costly = lotsOf([{ ...typed, quantity: '3 kg', cost: '12.500' }], 'GBP');
    expect(costly.faults.a?.cost).toBe('"12.500" can be read in two ways. Write 12500 or 12.50.');
  });

  test('is filled in with what has not come, at the price of the order', () => {
    const line = { materialId: 'a', name: 'Clay', unit: 'g', packQuantity: 10_000, packs: 3, packPriceMinor: 1001 };
    const order = {
      lines: [{ ...line, amountMinor: 3003 }],
      arrivals: [{ materialId: 'a', ordered: 30_000, received: 10_000 }],
    } as Order;
    expect(usualArrival(order, 'EUR')).toEqual([{ ...typed, quantity: '20 kg', cost: '20.02' }]);
  });
});

describe.each(['light', 'dark'] as const)('in %s', (colorScheme) => {
  test.each([
    ['on a desk', {}],
    ['on a phone', PHONE],
  ])('axe finds nothing %s and nothing scrolls sideways', async (_where, options) => {
    const page = await orders({ ...options, colorScheme });
    for (const summary of await page.locator('main summary').all()) await summary.click();
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
    else expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(1280);
    await page.context().close();
  });
});
