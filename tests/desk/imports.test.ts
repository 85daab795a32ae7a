import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { studioFixture } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf, signIn } from './browser.js';

const { app, db, owner } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
beforeAll(async () => {
  await studioFixture(owner);
  session = await sessionOf(open);
});

async function bring(options: BrowserContextOptions = {}): Promise<Page> {
  const page = await open('/studio/import', { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  return page;
}
const choose = (page: Page, text: string | Buffer) =>
  page.getByLabel('The list, as CSV').setInputFiles({
    ...{ name: 'list.csv', mimeType: 'text/csv', buffer: Buffer.from(text) },
  });
const WRONG =
  'name;email;member since\r\nInes Duval;ines@example.org;2024-02-29\r\nBo Lindqvist;;29/02/2024\r\n;x;\r\n';

describe('a list', () => {
  test('shows by row what isn’t right, and is brought once it is', async () => {
    const page = await bring();
    await choose(page, WRONG);
    await page.getByText('2 rows aren’t right.').waitFor();
    const rows = await page.getByRole('table').first().getByRole('row').allTextContents();
    expect(rows.slice(1)).toEqual([
      expect.stringMatching(/^3member since"29\/02\/2024" can be read in more than one way/),
      expect.stringMatching(/^4nameis empty and needed/),
    ]);
    expect(await page.getByRole('button', { name: /^Import/ }).count()).toBe(0);
    expect(await db.person.count()).toBe(0);

    await choose(page, 'name,email\nInes Duval,ines@example.org\nBo Lindqvist,\n');
    await page.getByText('The list would add two people.').waitFor();
    expect(await db.person.count()).toBe(0);
    await page.getByRole('button', { name: 'Import two people' }).click();
    await page.getByText('Two people came in.').waitFor();
    expect(await db.person.count()).toBe(2);
    await page.context().close();
  });

  test('in another character set says how to save it', async () => {
    const page = await bring();
    await choose(page, Buffer.from('name\r\nBézier\r\n', 'latin1'));
    expect(await page.getByRole('alert').textContent()).toMatch(
      /^Line 2 has a character that is not in UTF-8\. Save it again/,
    );
    await page.context().close();
  });

  test('comes with an empty one to fill in, for each kind that somebody may bring', async () => {
    const page = await bring();
    await page.getByLabel('What is on the shelf, lot by lot').check();
    await page.getByText('How the list must look').click();
    const link = page.getByRole('link', { name: /blank list/ });
    expect((await owner.get((await link.getAttribute('href')) ?? '')).body).toContain('"material","supplier"');
    await page.context().close();

    const theirs = await open('/sign-in');
    await signIn(theirs, undefined, 'tutor@example.org');
    await theirs.waitForURL(/\/$/);
    await theirs.goto(new URL('/studio/import', theirs.url()).href);
    await theirs.locator('main[aria-busy=false] .answer').waitFor();
    expect(await theirs.locator('.pick').allTextContents()).toEqual(['Materials']);
    await theirs.context().close();
  });
});

describe.each(['light', 'dark'] as const)('in %s', (colorScheme) => {
  test.each([
    ['on a desk', {}],
    ['on a phone', PHONE],
  ])('axe finds nothing %s and nothing scrolls sideways', async (_where, options) => {
    const page = await bring({ ...options, colorScheme });
    await choose(page, WRONG);
    await page.getByText(/rows aren’t right/).waitFor();
    await page.locator('main summary').click();
    expect(await faultsOf(page)).toEqual([]);
    if (options === PHONE) await expectFits(page);
    await page.context().close();
  });
});
