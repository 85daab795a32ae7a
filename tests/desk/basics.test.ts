import type { BrowserContextOptions } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { made, studioFixture } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';

const { app, db, owner } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
const CLAY = { name: 'Buff body', kind: 'clay', unit: 'g', packQuantity: 12_500, leadTimeDays: 7, shelfLifeDays: 400 };

beforeAll(async () => {
  await studioFixture(owner);
  session = await sessionOf(open);
});

const at = async (path: string, options: BrowserContextOptions = {}) => {
  const page = await open(path, { ...options, storageState: session });
  await page.locator('main section[aria-busy=false]').first().waitFor();
  return page;
};

describe('what a studio is made of', () => {
  test('is added on the desk: a kiln, and its figures that nobody gave are assumptions', async () => {
    const page = await at('/kilns/equipment');
    await page.getByRole('button', { name: 'Add a kiln' }).click();
    await page.getByLabel('Inside diameter, mm').fill('four');
    await page.locator('form').getByRole('button', { name: 'Add kiln' }).click();
    await page.getByRole('alert').first().waitFor();
    expect(await db.kiln.count()).toBe(0);
    await page.getByLabel('Inside diameter, mm').fill('400');
    await page.locator('form').getByRole('button', { name: 'Add kiln' }).click();
    await page.getByText('“Kiln” is saved.').waitFor();
    expect(await db.kiln.findFirst()).toMatchObject({ shape: 'round', widthMm: 400, depthMm: 400 });
    const { figures } = await db.assumption.findFirstOrThrow();
    expect(figures).toContain('Rated power, kW: 5.5');
    expect(figures.join()).not.toContain('Inside diameter');
    await page.context().close();
  });

  test('a tariff with a cheaper night covers the day once', async () => {
    const page = await at('/studio/tariffs');
    await page.getByRole('button', { name: 'Add a tariff' }).click();
    await page.getByLabel('Price per kWh, GBP').fill('0.12');
    await page.getByText('More', { exact: true }).last().click();
    await page.getByLabel('Other price 1 begins at').fill('07:00');
    await page.getByLabel('Other price 1 per kWh').fill('0.274');
    await page.locator('form').getByRole('button', { name: 'Add tariff' }).click();
    await page.getByText('“Electricity” is saved.').waitFor();
    const bands = await db.tariffBand.findMany({ orderBy: { fromMinute: 'asc' } });
    expect(bands.map(({ fromMinute, toMinute, perKwhMinor }) => [fromMinute, toMinute, Number(perKwhMinor)])).toEqual([
      [0, 420, 12],
      [420, 1440, 27.4],
    ]);
    await page.context().close();
  });

  test('a glaze in a jar needs no dry content: the usual one is an assumption', async () => {
    const page = await at('/shelf/materials');
    await page.getByRole('button', { name: 'Add a material' }).click();
    await page.getByLabel('Name').fill('Moss');
    await page.getByLabel('Kind').selectOption('glaze');
    await page.getByLabel('Counted in').selectOption('ml');
    await page.getByLabel('A pack holds').fill('500 ml');
    await page.locator('form').getByRole('button', { name: 'Add material' }).click();
    await page.getByText('“Moss” is saved.').waitFor();
    const { id, dryGramsPerMl } = await db.material.findFirstOrThrow({ where: { name: 'Moss' } });
    expect(Number(dryGramsPerMl)).toBe(0.75);
    const noted = await db.assumption.findUniqueOrThrow({ where: { subjectId: id } });
    expect(noted.figures).toContain('Dry grams in a millilitre');
    await page.context().close();
  });
});

test('what somebody else changed meanwhile is shown, what was typed stays, and nothing unasked is lost', async () => {
  const { id } = await made<{ id: string }>(owner, '/api/materials', CLAY);
  const page = await at('/shelf/materials');
  await page.getByRole('button', { name: 'Change Buff body' }).click();
  await page.getByLabel('A pack holds').fill('10 kg');
  await owner.put(`/api/materials/${id}`, { ...CLAY, name: 'Buff body, fine' });
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await page.getByText('Name is now: Buff body, fine').waitFor();
  expect(await page.getByRole('alert').first().textContent()).toContain('Nothing was saved yet');
  expect(await page.getByLabel('A pack holds').inputValue()).toBe('10 kg');
  expect(await db.material.findUnique({ where: { id } })).toMatchObject({ packQuantity: 12_500 });
  await page.getByLabel('Name').fill('Buff body, fine');
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await page.getByText('“Buff body, fine” is saved.').waitFor();
  expect(await db.material.findUnique({ where: { id } })).toMatchObject({ packQuantity: 10_000, shelfLifeDays: 400 });
  await page.context().close();
});

const PAGES = [
  ...['/studio/rooms', '/studio/terms', '/studio/tariffs'],
  ...['/kilns/equipment', '/shelf/materials', '/shelf/suppliers'],
];
test.each(PAGES)('%s fits a phone in the dark and is without faults, form open', async (path) => {
  const page = await at(path, { ...PHONE, colorScheme: 'dark' });
  await page
    .getByRole('button', { name: /^Add an? / })
    .first()
    .click();
  await page.locator('form').waitFor();
  for (const more of await page.locator('form summary').all()) await more.click();
  await expectFits(page);
  expect(await faultsOf(page)).toEqual([]);
  await page.context().close();
});
