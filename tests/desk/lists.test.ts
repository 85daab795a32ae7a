import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Booking } from '../../src/studio/bookings/contract.js';
import { SIGNS } from '../../src/trade/text/ware-code.js';
import { testApp } from '../support/app.js';
import { manyPeople, payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { firingFixture } from '../support/fixtures/firings.js';
import { noted, piecesFixture } from '../support/fixtures/ware.js';
import { made, personFixture } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';

const { app, db, owner } = await testApp();
const { base, open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let ada: { id: string };
let code: string;
let pieceId: string;

/** Two courses, 58 people, three mugs of Ada Finch, a planned firing, a paid booking with its letters and its receipt. */
beforeAll(async () => {
  const home = await coursesFixture(owner);
  await home.addCourse({ title: 'Lidded jars' });
  const past = ['2026-02-03', '2026-02-10'].map((day) => `${day}T19:00:00Z`);
  await home.addCourse({
    title: 'Winter bowls',
    sessions: past.map((startsAt) => ({ startsAt, endsAt: startsAt.replace('19:', '21:'), roomId: home.room.id })),
  });
  await manyPeople(db, 56);
  ada = await personFixture(owner, 'Ada Finch');
  const [mug, ...others] = await piecesFixture(owner, ada.id, {
    ware: [{ form: 'mug', size: 'medium', description: 'Mug with a thumb rest', clayId: null, count: 3 }],
  });
  if (!mug) throw new Error('no piece');
  ({ code, id: pieceId } = mug);
  await noted(owner, others, 'dry');
  await firingFixture(owner, { kilnId: home.kiln.id, scheduleId: home.bisque.id });
  const course = (await owner.get('/api/courses?q=lidded')).json().items[0];
  const booking = await made<Booking>(owner, `/api/courses/${course.id}/bookings`, {
    ...{ payerId: ada.id, attendeeIds: [ada.id] },
  });
  const paid = await payFor(owner, booking, 3000);
  if (paid.statusCode !== 201) throw new Error(paid.body);
  session = await sessionOf(open);
});

async function at(path: string, options: BrowserContextOptions = {}): Promise<Page> {
  const page = await open(path, { ...options, storageState: session });
  await listed(page);
  return page;
}
const listed = (page: Page) => page.locator('main[aria-busy=false] .search-list[aria-busy=false]').waitFor();
const answer = (page: Page) => page.locator('.answer').textContent();
const firstCells = (page: Page) => page.locator('.data-table').getByRole('rowheader').allTextContents();

describe('people', () => {
  test('are searched in the address, shown page by page, and still there on the way back', async () => {
    const page = await at('/people');
    expect(await answer(page)).toBe('57 people.');
    expect(await firstCells(page)).toHaveLength(50);
    await page.getByRole('button', { name: 'Show more people' }).click();
    await expect.poll(() => firstCells(page)).toHaveLength(57);
    await page.getByLabel('Name, email, phone or piece code').fill('finch');
    await expect.poll(() => answer(page)).toBe('One person matches.');
    expect(new URL(page.url()).search).toBe('?q=finch');
    await page.getByRole('link', { name: 'Ada Finch' }).click();
    await page.getByRole('heading', { level: 1, name: 'Ada Finch' }).waitFor();
    await expect.poll(() => answer(page)).toBe('Owes £90, has one course to come and has three pieces here.');
    await page.goBack();
    await expect.poll(() => page.getByLabel('Name, email, phone or piece code').inputValue()).toBe('finch');
    await expect.poll(() => firstCells(page)).toEqual(['Ada Finch']);
    await page.context().close();
  });

  test('are added and changed, the name for papers too; a refusal keeps what was typed', async () => {
    const page = await at('/people');
    await page.getByRole('button', { name: 'Add a person' }).click();
    await page.getByLabel('Name', { exact: true }).fill('松本 花');
    await page.getByLabel('Name on papers').fill('松本');
    await page.getByRole('button', { name: 'Add this person' }).click();
    await page.getByRole('alert').first().waitFor();
    expect(await page.getByLabel('Name', { exact: true }).inputValue()).toBe('松本 花');
    await page.getByLabel('Name on papers').fill('Hana Matsumoto');
    await page.getByRole('button', { name: 'Add this person' }).click();
    await page.getByRole('heading', { level: 1, name: '松本 花' }).waitFor();
    await page.getByRole('button', { name: 'Change this person' }).click();
    await page.getByLabel('Address').fill('3 Mill Row\nOstlemere');
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByText('3 Mill Row, Ostlemere').waitFor();
    expect(await db.person.findFirst({ where: { name: '松本 花' } })).toMatchObject({
      ...{ paperName: 'Hana Matsumoto', addressLines: ['3 Mill Row', 'Ostlemere'], email: null },
    });
    await page.context().close();
  });
});

describe('the other lists', () => {
  test('show the courses to come by month, and those that are past', async () => {
    const page = await at('/courses');
    expect(await firstCells(page)).toEqual(['Lidded jars']);
    expect(await page.getByRole('heading', { level: 2 }).allTextContents()).toEqual(['April 2026']);
    const row = page.getByRole('row', { name: /Lidded jars/ });
    expect(await row.textContent()).toContain('7 of 8 left');
    expect(await row.getByRole('link', { name: 'Price of Lidded jars' }).getAttribute('href')).toMatch(
      /^\/courses\/price\//,
    );
    await page.getByLabel('Which').selectOption({ label: 'Past or cancelled' });
    await expect.poll(() => firstCells(page)).toEqual(['Winter bowls']);
    await page.context().close();
  });

  test('find ware by its stage, and lead to what happened to a piece', async () => {
    const page = await at('/ware');
    expect(await answer(page)).toBe('Three pieces.');
    await page.getByLabel('Stage').selectOption({ label: 'Greenware' });
    await expect.poll(() => answer(page)).toBe('One piece matches.');
    await page.getByRole('link', { name: code }).click();
    await page.getByRole('heading', { level: 1, name: `${code}, Mug with a thumb rest` }).waitFor();
    await page
      .getByRole('table', { name: /What happened to it/ })
      .getByText('Taken in')
      .waitFor();
    await page.context().close();
  });

  test('show letters with their words, firings and papers', async () => {
    const page = await at('/letters');
    await page.getByLabel('About').selectOption({ label: 'Receipt' });
    await expect.poll(() => firstCells(page)).toEqual(['Receipt']);
    await page.locator('.data-table').getByRole('link', { name: 'Receipt', exact: true }).click();
    await page.getByText('Dear Ada Finch,').waitFor();
    await page.goto(`${base}/money/papers`);
    await listed(page);
    const receipt = page.getByRole('link', { name: /^Receipt R-/ });
    const paper = await page.context().request.get(`${base}${await receipt.getAttribute('href')}`);
    expect((await paper.body()).subarray(0, 5).toString()).toBe('%PDF-');
    await page.goto(`${base}/kilns`);
    await listed(page);
    expect(await firstCells(page)).toEqual(['Bisque firing 1']);
    await page.context().close();
  });
});

describe('the find box', () => {
  test('leads to a person by the keyboard alone', async () => {
    const page = await at('/ware');
    await page.getByRole('combobox', { name: /Find a person/ }).click();
    await page.keyboard.type('finch');
    await page
      .getByRole('option', { name: /Ada Finch/ })
      .first()
      .waitFor();
    expect(await faultsOf(page)).toEqual([]);
    await page.locator('.choice[aria-selected="true"]', { hasText: 'Ada Finch' }).waitFor(); // the first, before any arrow
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: 'Ada Finch' }).waitFor();
    await page.context().close();
  });

  test('says which sign of a code is wrong, behind one button on a phone', async () => {
    const page = await at('/ware', PHONE);
    const wrong = [...SIGNS].find((sign) => sign !== code[0]) + code.slice(1);
    await page.getByRole('button', { name: 'Find', exact: true }).tap();
    await page.getByRole('combobox', { name: /Find a person/ }).fill(wrong);
    await page.getByText(`${code} (sign 1 differs)`).waitFor();
    await expectFits(page);
    expect(await faultsOf(page)).toEqual([]);
    await page
      .getByRole('option', { name: new RegExp(code) })
      .first()
      .tap();
    await page.waitForURL(`**/ware/${pieceId}`);
    await page.context().close();
  });
});

test.each([
  ['on a desk', {}],
  ['on a phone in the dark', { ...PHONE, colorScheme: 'dark' as const }],
])('every list fits and is without faults %s', async (_, options) => {
  const page = await at('/people', options);
  const letter = (await owner.get('/api/notices')).json().items[0].id;
  const lists = ['/people', '/courses?when=all', '/ware', '/kilns', '/money/papers', '/letters'];
  for (const path of [...lists, `/people/${ada.id}`, `/ware/${pieceId}`, '/kilns/equipment', `/letters/${letter}`]) {
    await page.goto(`${base}${path}`);
    await page.locator('main[aria-busy=false] .answer').waitFor();
    if (lists.includes(path)) await listed(page);
    if ('viewport' in options) await expectFits(page);
    expect([path, await faultsOf(page)]).toEqual([path, []]);
  }
  await page.context().close();
});
