import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { glazeFixture, lotFixture, materialFixture } from '../support/fixtures/materials.js';
import { studioFixture } from '../support/fixtures.js';
import { browse, expectFits, expectNoSidewaysScroll, faultsOf, sessionOf } from './browser.js';

// What comes without an order is put on the shelf where its material is.

const { app, db, owner } = await testApp();
const { base, open } = await browse(app);
let page: Page;

beforeAll(async () => {
  await studioFixture(owner);
  page = await open('/health', { storageState: await sessionOf(open) });
});

const openMaterial = async (id: string) => {
  await page.goto(`${base}/shelf/materials/${id}`);
  await page.locator('main[aria-busy=false] .answer').waitFor();
};
const answer = async () => (await page.locator('.answer').textContent())?.replaceAll('\u00a0', ' ');

describe('another lot', () => {
  test('of clay comes from where it came last, and is used after what is here', async () => {
    const clay = await materialFixture(owner, { shelfLifeDays: 400 });
    await lotFixture(owner, clay.id, { quantity: 12_500, costMinor: 1400 });
    await page.goto(`${base}/shelf/materials`);
    await page.getByRole('link', { name: clay.name }).click();
    await page.getByRole('heading', { level: 1, name: clay.name }).waitFor();
    await expect.poll(answer).toBe('12.5 kg on the shelf, worth £14.00.');
    await page.getByRole('button', { name: 'New lot' }).click();
    expect(await page.getByLabel('How much came').inputValue()).toBe('12.5 kg');
    const { supplier } = await db.lot.findFirstOrThrow({ where: { materialId: clay.id } });
    expect(await page.getByLabel('Bought from').inputValue()).toBe(supplier);
    await page.getByText('A pack last cost £14.00.').waitFor();
    await page.getByLabel('How much came').fill('25 kg');
    await page.getByLabel('Received on').fill('2026-03-09');
    await page.getByText('Use it by 13 April 2027: it keeps 400 days.').waitFor(); // counted on a calendar
    await page.getByLabel('All of it cost, GBP').fill('thirty');
    await page.getByRole('button', { name: 'Put it on the shelf' }).click();
    await page.getByRole('alert').first().waitFor();
    expect(await db.lot.count({ where: { materialId: clay.id } })).toBe(1); // nobody can read its price
    await page.getByLabel('All of it cost, GBP').fill('31.20');
    await page.getByRole('button', { name: 'Put it on the shelf' }).click();
    await page.getByText('25 kg of').waitFor();
    await expect.poll(answer).toBe('37.5 kg on the shelf, worth £45.20.');
    const [lot] = await db.lot.findMany({ where: { materialId: clay.id }, orderBy: { receivedOn: 'desc' } });
    expect(lot).toMatchObject({ quantity: 25_000, supplier });
    expect(lot?.receivedOn.toISOString().slice(0, 10)).toBe('2026-03-09');
    const [first, next] = await page.locator('.data-table').getByRole('rowheader').allTextContents();
    expect([first, next]).toEqual(['3 March 2026', '9 March 2026']);
  });

  test('of a glaze in jars is counted in millilitres, and ends what was assumed of its price', async () => {
    const glaze = await glazeFixture(owner);
    const first = await lotFixture(owner, glaze.id, { quantity: 500, costMinor: 1500 });
    await owner.post('/api/assumptions', { kind: 'lot', subjectId: first.id, figures: ['A pack costs, GBP: 15'] });
    await openMaterial(glaze.id);
    await page.getByRole('button', { name: 'New lot' }).click();
    await page.getByLabel('How much came').fill('2 l');
    await page.getByLabel('All of it cost, GBP').fill('52');
    await page.getByRole('button', { name: 'Put it on the shelf' }).click();
    await expect.poll(answer).toBe('2.5 l on the shelf, worth £67.00.');
    expect(await db.assumption.count()).toBe(0);
  });

  test('of tomorrow is refused beside its day, and nothing typed is lost', async () => {
    const clay = await materialFixture(owner);
    await openMaterial(clay.id);
    expect(await answer()).toBe('Nothing on the shelf.');
    await page.getByRole('button', { name: 'New lot' }).click();
    await page.getByLabel('All of it cost, GBP').fill('14');
    await page.getByLabel('Bought from').fill('Ostlemere Clay');
    await page.getByLabel('Received on').fill('2099-01-01');
    await page.getByRole('button', { name: 'Put it on the shelf' }).click();
    await page.getByLabel('Received on').and(page.locator('[aria-invalid=true]')).waitFor();
    expect(await page.getByLabel('All of it cost, GBP').inputValue()).toBe('14');
    await page.getByRole('button', { name: 'Cancel' }).click();
    expect(await db.lot.count({ where: { materialId: clay.id } })).toBe(0);
  });
});

test('how long a material keeps is changed on the desk, and each of its lots says so', async () => {
  const clay = await materialFixture(owner);
  await lotFixture(owner, clay.id, { receivedOn: '2026-01-05' });
  await page.goto(`${base}/shelf/materials?change=${clay.id}`);
  await page.locator('.noun-form summary').click();
  await page.getByLabel('Keeps, days from its arrival').fill('365');
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await page.getByText(`“${clay.name}” is saved.`).waitFor();
  await openMaterial(clay.id);
  await page.getByRole('cell', { name: '5 January 2027' }).waitFor();
});

test.each([
  [360, 740, 'dark'],
  [1280, 900, 'light'],
] as const)('fits %s px and is without faults, form open', async (width, height, colorScheme) => {
  const clay = await materialFixture(owner, { shelfLifeDays: 90 });
  await lotFixture(owner, clay.id, {});
  await page.setViewportSize({ width, height });
  await page.emulateMedia({ colorScheme });
  await openMaterial(clay.id);
  await page.getByRole('button', { name: 'New lot' }).click();
  if (width === 360) await expectFits(page);
  else await expectNoSidewaysScroll(page);
  expect(await faultsOf(page)).toEqual([]);
});
