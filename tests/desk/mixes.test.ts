import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Mix } from '../../src/studio/mixes/contract.js';
import { testApp } from '../support/app.js';
import { lotFixture } from '../support/fixtures/materials.js';
import { mixFixture, powderFixture } from '../support/fixtures/mixes.js';
import { studioFixture } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';

const { app, db, owner } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let mix: Mix;

beforeAll(async () => {
  await studioFixture(owner);
  const powder = (name: string) => powderFixture(owner, { name });
  const [spar, flint, tide] = [await powder('Ground spar'), await powder('Flint'), await powder('Tide base')];
  await lotFixture(owner, spar.id, { quantity: 5000, costMinor: 1000 });
  await lotFixture(owner, flint.id, { quantity: 5000, costMinor: 500 });
  const parts = [
    { materialId: spar.id, share: '75' },
    { materialId: flint.id, share: '25' },
  ];
  mix = await mixFixture(owner, [], { parts, litreGrams: 1500, solidsDensity: '2.5' }, tide.id);
  await powder('Dusk');
  session = await sessionOf(open);
});

async function mixes(options: BrowserContextOptions = {}): Promise<Page> {
  const page = await open('/shelf/mixes', { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  return page;
}
const plain = async (page: Page, what: string) =>
  ((await page.locator(what).first().textContent()) ?? '').replaceAll('\u00a0', ' ');

describe('a mix on the page', () => {
  test('stands as a bar whose parts are as wide as their shares', async () => {
    const page = await mixes();
    expect(await page.getByRole('img').first().getAttribute('aria-label')).toMatch(
      /Tide base is Ground spar 75%, Flint 25%/,
    );
    const widths = await page
      .locator('.mixed rect')
      .evaluateAll((all) => all.map((one) => one.getBoundingClientRect().width));
    expect((widths[0] ?? 0) / (widths[1] ?? 1)).toBeCloseTo(3, 1);
    await page.context().close();
  });

  test('says what a batch weighs, costs and takes of water while its grams are typed', async () => {
    const page = await mixes();
    await page.getByLabel('Dry weight to make (g)').fill('1400');
    expect(await plain(page, '.weights tbody')).toContain('1,050 g£2.10');
    expect(await plain(page, '.weights tfoot')).toContain('1,400 g£2.45');
    // 14 kg dry at 2.5 want 11.2 kg of water for 1500 g a litre: tests/reference/mixes.test.ts
    expect(await plain(page, 'section.mix')).toContain('Add 1.1 l of water. A litre then weighs 1,500 g.');
    await page.getByLabel('Dry weight to make (g)').fill('much');
    expect(await plain(page, '.field .iron')).toMatch(/whole number of grams/);
    expect(await page.getByRole('link', { name: 'Print batch sheet' }).count()).toBe(0);
    await page.context().close();
  });

  test('is mixed at a press, and taken back with a reason', async () => {
    const page = await mixes();
    await page.getByLabel('Dry weight to make (g)').fill('2000');
    await page.getByLabel('Actual yield (g, optional)').fill('1900');
    await page.getByRole('button', { name: 'Mix this batch' }).click();
    await page.locator('.done').filter({ hasText: 'are on the shelf' }).waitFor();
    expect(await page.locator('.done').evaluate((done) => done === document.activeElement)).toBe(true);
    expect(await plain(page, '.answer')).toBe('One mix. The last batch was 1.9 kg of Tide base today; 1.9 kg left.');
    await page.getByText('One batch made').click();
    await page.getByRole('button', { name: 'Take batch 1 back' }).click();
    await page.getByLabel('Why is it taken back?').fill('Wrong bucket');
    await page.getByRole('button', { name: 'Take it back' }).click();
    await page.locator('.done').filter({ hasText: 'Batch 1 is taken back' }).waitFor();
    expect(await db.mixUndoing.count()).toBe(1);
    expect((await owner.get(`/api/materials/${mix.product.id}`)).json().onHand).toBe(0);
    await page.context().close();
  });

  test('is written anew, and says what keeps it from being mixed', async () => {
    const page = await mixes();
    await page.getByRole('button', { name: 'Write down another mix' }).click();
    const form = page.locator('form.raised');
    await form.getByLabel('Which of your materials do you mix?').selectOption({ label: 'Dusk' });
    await form.getByLabel('Material 1', { exact: true }).selectOption({ label: 'Flint' });
    await form.getByLabel('Material 2', { exact: true }).selectOption({ label: 'Dusk' });
    await form.getByText('These are percentages').click();
    expect(await form.getByText('can’t be what is mixed itself').count()).toBe(1);
    await form.getByLabel('Material 2', { exact: true }).selectOption({ label: 'Ground spar' });
    await form.getByLabel('Percent', { exact: true }).nth(1).fill('40');
    expect(await form.getByText('add up to 90%, not to 100').count()).toBe(1);
    await form.getByLabel('Percent', { exact: true }).nth(1).fill('50');
    await form.getByRole('button', { name: 'Keep this mix' }).click();
    await page.locator('.done').filter({ hasText: 'The mix is kept' }).waitFor();
    expect(await page.locator('.answer').textContent()).toMatch(/^Two mixes/);
    await page.context().close();
  });

  test('gets a new version, unless somebody wrote one meanwhile', async () => {
    const page = await mixes();
    const section = page.locator(`#mix-${mix.id}`);
    await section.getByRole('button', { name: 'Change the recipe' }).click();
    await section.getByLabel('Parts by weight').first().fill('80');
    const parts = mix.parts.map(({ materialId, share }) => ({ materialId, share }));
    expect((await owner.put(`/api/mixes/${mix.id}`, { weights: 'wet', parts })).statusCode).toBe(200);
    await section.getByRole('button', { name: 'Keep as a new version' }).click();
    expect(await section.getByRole('alert').textContent()).toMatch(/somebody changed this/);
    await page.reload();
    await page.locator('main[aria-busy=false] .answer').waitFor();
    await section.getByRole('button', { name: 'Change the recipe' }).click();
    await section.getByLabel('Parts by weight').first().fill('80');
    await section.getByRole('button', { name: 'Keep as a new version' }).click();
    await page.locator('.done').filter({ hasText: 'has a new version' }).waitFor();
    expect((await owner.get(`/api/mixes/${mix.id}`)).json()).toMatchObject({
      version: 3,
      parts: [{ share: '80' }, {}],
    });
    await page.context().close();
  });

  test.each([
    ['on a desk', {}],
    ['on a phone in the dark', { ...PHONE, colorScheme: 'dark' as const }],
  ])('fits and is without faults %s, with its forms open', async (_, options) => {
    const page = await mixes(options);
    await page.getByRole('button', { name: 'Change the recipe' }).first().click();
    await page.locator('form.raised').waitFor();
    await page.locator('main summary').first().click();
    if ('viewport' in options) await expectFits(page);
    expect(await faultsOf(page)).toEqual([]);
    await page.context().close();
  });
});
