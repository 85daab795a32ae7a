import { expect, test } from 'vitest';
import { inTransaction } from '../../src/database/transaction.js';
import { buildApp } from '../../src/server/app.js';
import { newSetUpToken } from '../../src/studio/staff/service.js';
import { testDatabase } from '../support/database.js';
import { browse, expectFits, faultsOf, PHONE } from './browser.js';

const { db } = await testDatabase();
const { base, elsewhere, open } = await browse(await buildApp({ db, now: () => new Date() }));

test('a new studio goes from its link to its first question', async () => {
  const token = await inTransaction(db, (tx) => newSetUpToken(tx, new Date()));
  const page = await open(`/set-up#${token}`, {
    colorScheme: 'dark',
    locale: 'de-AT',
    timezoneId: 'Europe/Vienna',
    ...PHONE,
  });
  expect(await faultsOf(page)).toEqual([]);
  await expectFits(page);
  await page.getByLabel('Your name').fill('Mara Lind');
  await page.getByLabel('Email address').fill('mara@alderlane.example');
  await page.getByLabel('Password').fill('short');
  await page.getByRole('button', { name: 'Make me the owner' }).click();
  await page.getByRole('alert').waitFor();
  expect(await db.staffMember.count()).toBe(0);
  expect(await page.getByLabel('Password').getAttribute('aria-invalid')).toBe('true');
  await page.getByLabel('Password').fill('clay under the nails');
  await page.getByRole('button', { name: 'Make me the owner' }).click();

  await page.waitForURL(`${base}/studio`);
  await page.getByLabel('Name', { exact: true }).fill('Alder Lane Pottery');
  await page.getByLabel('Address', { exact: true }).fill('7 Alder Lane\nOstlemere');
  expect(await faultsOf(page)).toEqual([]);
  await expectFits(page);
  await page.getByRole('button', { name: 'Save and continue' }).click();

  await page.waitForURL(`${base}/`);
  await page.getByText('Nothing needs doing today. No session is planned yet.').waitFor();
  expect(await faultsOf(page)).toEqual([]);
  expect(await db.studio.findFirst()).toMatchObject({
    name: 'Alder Lane Pottery',
    locale: 'de-AT',
    timeZone: 'Europe/Vienna',
  });
});

test('a link without its token says what to open, a used one what to do', async () => {
  const page = await open('/set-up');
  await page.getByText('Open the whole link').waitFor();
  expect(await faultsOf(page)).toEqual([]);
  const used = await open(`/set-up#${'x'.repeat(43)}`);
  await used.getByLabel('Your name').fill('Mara Lind');
  await used.getByLabel('Email address').fill('again@alderlane.example');
  await used.getByLabel('Password').fill('clay under the nails');
  await used.getByRole('button', { name: 'Make me the owner' }).click();
  await used.getByRole('alert').waitFor();
  expect(await used.getByRole('alert').textContent()).not.toBe('');
});

test('over plain HTTP from another machine no password is asked for, and what to do is said', async () => {
  const token = 'x'.repeat(43);
  const page = await open(`${elsewhere}/set-up#${token}`);
  expect(await page.getByRole('alert').textContent()).toMatch(/^Setting up can’t work here.*HTTPS/);
  expect(await page.locator('form, input').count()).toBe(0);
  expect(await faultsOf(page)).toEqual([]);
});
