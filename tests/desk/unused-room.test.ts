import { expect, test } from 'vitest';
import type { UnusedRoom } from '../../src/studio/firings/contract.js';
import { formatMoney } from '../../src/trade/money/money.js';
import { testApp } from '../support/app.js';
import { workshopFixture } from '../support/fixtures/courses.js';
import { firedFixture, firingFixture, step } from '../support/fixtures/firings.js';
import { tariffFixture } from '../support/fixtures/kilns.js';
import { MUG, piecesFixture } from '../support/fixtures/ware.js';
import { personFixture, studioFixture } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';

const { app, db, owner } = await testApp();
const { open } = await browse(app);

test('the studio shows what each choice of who pays for empty room would have meant, and takes the third', async () => {
  await studioFixture(owner);
  await tariffFixture(owner);
  const storageState = await sessionOf(open);
  const empty = await open('/studio', { storageState });
  await empty.getByLabel('Who pays for empty space in a kiln').waitFor();
  expect(await empty.locator('caption').count()).toBe(0); // nothing was fired yet

  const shop = await workshopFixture(owner);
  const firing = await firingFixture(owner, { kilnId: shop.kiln.id, scheduleId: shop.stoneware.id });
  const { id } = await personFixture(owner);
  const ware = await piecesFixture(owner, id, { stage: 'glazed', ware: [{ ...MUG, count: 12 }] });
  await firedFixture(owner, firing.id, ware);
  await step(owner, firing.id, 'settlement', {});
  const known: UnusedRoom = (await owner.get('/api/unused-room')).json();
  const money = (minor: number) => formatMoney(minor, 'GBP', 'en-GB');

  const page = await open('/studio', { ...PHONE, storageState });
  await page.getByText(`Your last firing cost ${money(known.costMinor)}, your time included.`).waitFor();
  for (const [i, { makersMinor, coursesMinor, studioMinor }] of known.choices.entries()) {
    const row = await page.locator('caption ~ tbody tr').nth(i).locator('td').allTextContents();
    expect(row).toEqual([makersMinor, coursesMinor, studioMinor].map(money));
  }
  expect(await page.locator('caption ~ tbody th').allTextContents()).toEqual([
    'The studio, as now',
    'The makers, at the usual fill',
    'The makers, all of it',
  ]);
  // so few figures stay a table, under their heads
  expect(await page.getByRole('columnheader', { name: 'Makers' }).isVisible()).toBe(true);
  expect(await faultsOf(page)).toEqual([]);
  await expectFits(page);
  await page.getByLabel('Who pays for empty space in a kiln').selectOption('usual');
  await page.getByRole('button', { name: 'Save the studio' }).click();
  await expect.poll(async () => (await db.studio.findFirst())?.emptySpace).toBe('usual');
});
