import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { glazeFixture, lotFixture, materialFixture } from '../support/fixtures/materials.js';
import { studioFixture } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';

const { app, db, owner } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let clay: { id: string };
let glaze: { id: string };

/** 12.5 kg of clay at 18.50, 500 ml of glaze at 11.00, and wax of which more was drawn than the books held. */
beforeAll(async () => {
  await studioFixture(owner);
  clay = await materialFixture(owner, { name: 'Pit grey' });
  glaze = await glazeFixture(owner, { name: 'Moss satin' });
  const wax = await materialFixture(owner, { name: 'Cold wax', kind: 'wax', unit: 'ml', packQuantity: 500 });
  await lotFixture(owner, clay.id);
  await lotFixture(owner, glaze.id, { quantity: 500, costMinor: 1100 });
  await owner.post(`/api/materials/${wax.id}/draws`, { quantity: 20 });
  session = await sessionOf(open);
});

async function count(options: BrowserContextOptions = {}): Promise<Page> {
  const page = await open('/shelf/count', { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  return page;
}
const row = (page: Page, name: string) => page.locator('.count li', { hasText: name });
async function enter(page: Page, name: string, figure: string) {
  await page.getByLabel(`How much ${name} there is`).fill(figure);
  await row(page, name).getByRole('button', { name: 'Enter', exact: true }).click();
}
const stocktakes = (materialId: string) => db.stocktake.findMany({ where: { materialId }, orderBy: { id: 'asc' } });

describe('counting', () => {
  test('hides the books until a figure is entered, asks why they differ, and keeps each at once', async () => {
    const page = await count(PHONE);
    expect(await page.locator('.count h2').first().textContent()).toMatch(/^Count these first/);
    expect(await page.locator('main').textContent()).not.toMatch(/12\.5|500/);

    await enter(page, 'Pit grey', '12,015');
    const why = row(page, 'Pit grey').locator('.why');
    await why.waitFor();
    expect((await why.textContent())?.replaceAll('\u00a0', ' ')).toMatch(
      /^The books say 12\.5 kg: you counted 485 g less/,
    );
    expect(await stocktakes(clay.id)).toEqual([]);
    await why.getByRole('button', { name: 'Dried out' }).click();
    await page.getByText('1 of 3').waitFor();
    expect(await stocktakes(clay.id)).toMatchObject([{ counted: 12_015, inBooks: 12_500, explanation: 'Dried out' }]);

    await enter(page, 'Moss satin', '500');
    await page.getByText('2 of 3').waitFor();
    expect(await stocktakes(glaze.id)).toMatchObject([{ counted: 500, inBooks: 500, explanation: null }]);
    const sums = await page.locator('.differences :is(tbody, tfoot) tr').allTextContents();
    // 485 g of a lot of 12.5 kg at 18.50: 71.78 pence
    expect(sums.map((text) => text.replaceAll('\u00a0', ' '))).toEqual([
      'Pit greyDried out−485 g−£0.72',
      expect.stringMatching(/^Total.*−£0\.72$/),
    ]);
    await page.reload();
    await page.getByText('2 of 3').waitFor();
    await page.context().close();
  });

  test('keeps what was typed while the server can’t be reached, and says so', async () => {
    const page = await count(PHONE);
    await page.route('**/counts', (route) => route.abort());
    await enter(page, 'Cold wax', '0.75');
    await page.locator('.count .fault').waitFor(); // 0.75 ml is no whole ml
    await enter(page, 'Cold wax', '40');
    await page.getByText('is not kept there yet').waitFor();
    await page.reload();
    await page.locator('main[aria-busy=false] .answer').waitFor();
    expect(await page.getByLabel('How much Cold wax there is').inputValue()).toBe('40');
    await page.unroute('**/counts');
    await row(page, 'Cold wax').getByRole('button', { name: 'Enter', exact: true }).click();
    await row(page, 'Cold wax').getByLabel('In your own words').fill('A jar stood at the back');
    await row(page, 'Cold wax').getByRole('button', { name: 'Save with this reason' }).click();
    await page.getByText('1 of 3').waitFor();
    expect((await owner.get('/api/materials?limit=200')).json().items).toContainEqual(
      expect.objectContaining({ name: 'Cold wax', onHand: 40, asksForCount: false }),
    );
    await page.context().close();
  });
});

test('on paper it is a sheet to write on', async () => {
  const page = await count();
  await page.emulateMedia({ media: 'print' });
  expect(await page.locator('.by-hand:visible').count()).toBe(3);
  expect(await page.locator('form:visible, nav:visible, button:visible').count()).toBe(0);
  await page.context().close();
});

test.each(['light', 'dark'] as const)('axe finds nothing in %s, and it fits a phone', async (colorScheme) => {
  const page = await count({ ...PHONE, colorScheme });
  await enter(page, 'Pit grey', '1');
  await row(page, 'Pit grey').locator('.why').waitFor();
  expect(await faultsOf(page)).toEqual([]);
  await expectFits(page);
  await page.context().close();
});
