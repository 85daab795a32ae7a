import { expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { studioFixture } from '../support/fixtures.js';
import { browse, expectFits, expectNoSidewaysScroll, faultsOf, PHONE, sessionOf } from './browser.js';

const { app, db, owner } = await testApp();
await studioFixture(owner);
const { base, elsewhere, open } = await browse(app);
const storageState = await sessionOf(open);
const WIDE = { storageState, viewport: { width: 1280, height: 900 } };
const NARROW = { storageState, ...PHONE, colorScheme: 'dark' as const };

const shot = async (page: Awaited<ReturnType<typeof open>>, name: string) => {
  const folder = process.env.SHOTS;
  if (folder) await page.screenshot({ path: `${folder}/${name}.png`, fullPage: true });
};

type Options = typeof WIDE | typeof NARROW;
const fitsIn = (options: Options) => (options === NARROW ? expectFits : expectNoSidewaysScroll);

/** Somebody who is invited opens the link, chooses a password and is let in. */
async function join(link: string, name: string, options: Options, how: string) {
  const { storageState: _, ...fresh } = options;
  const theirs = await open(link, fresh);
  await theirs.getByText(`Welcome to Alder Lane Pottery, ${name}.`).waitFor();
  expect(await faultsOf(theirs)).toEqual([]);
  await fitsIn(options)(theirs);
  await shot(theirs, `password-${how.slice(0, 4)}`);
  await theirs.getByLabel('Your password').fill('wheel and kiln');
  await theirs.getByRole('button', { name: 'Save and sign in' }).click();
  await theirs.waitForURL(`${base}/`);

  return theirs;
}

test.each([
  ['at 1280 px', WIDE],
  ['on a phone in the dark', NARROW],
])('somebody is invited, chooses their password, changes it, and is removed: %s', async (how, options) => {
  const name = how.includes('phone') ? 'Halden Roe' : 'Ossian Vey';
  const email = `${name.slice(0, 6).toLowerCase()}@alderlane.example`;
  const fits = fitsIn(options);
  const page = await open('/studio/staff', options);
  await page.getByText('people work here').waitFor();
  await page.getByRole('button', { name: 'Invite somebody' }).click();
  await page.getByLabel('Name', { exact: true }).fill(name);
  await page.getByLabel('Email address').fill('tutor@example.org'); // is the tutor's already
  await page.getByRole('button', { name: 'Send invitation' }).click();
  await page.getByRole('alert').getByText('Somebody signs in as tutor@example.org already.').waitFor();
  expect(await faultsOf(page)).toEqual([]);
  await fits(page);
  await page.getByLabel('Email address').fill(email);
  await page.getByRole('button', { name: 'Send invitation' }).click();

  const link = await page.getByLabel('Link', { exact: true }).inputValue();
  expect(link).toMatch(new RegExp(`^${base}/password#[\\w-]{43}$`));
  await page.getByText('opens only on the computer that runs Wareboard').waitFor();
  await page.getByText('has not joined yet').waitFor();
  expect(await faultsOf(page)).toEqual([]);
  await fits(page);
  await shot(page, `staff-link-${how.slice(0, 4)}`);
  await page.getByRole('button', { name: 'Copy link' }).click();
  await page
    .getByRole('status')
    .getByText(/Copied|marked/)
    .waitFor();

  const theirs = await join(link, name, options, how);
  await theirs.goto(`${base}/studio/account`);
  await theirs.getByText('a tutor').waitFor();
  await theirs.getByLabel('Current password').fill('wheel and glaze');
  await theirs.getByLabel('New password').fill('a password of mine');
  await theirs.getByRole('button', { name: 'Change password' }).click();
  await theirs.getByText('This is not your password. Try again.').first().waitFor();
  await theirs.getByLabel('Current password').fill('wheel and kiln');
  await theirs.getByRole('button', { name: 'Change password' }).click();
  await theirs.getByRole('status').getByText('Your password is changed.').waitFor();
  expect(await theirs.getByLabel('Current password').inputValue()).toBe('');
  expect(await faultsOf(theirs)).toEqual([]);
  await fits(theirs);
  await shot(theirs, `account-${how.slice(0, 4)}`);

  await page.reload();
  await page.getByRole('button', { name: `Change ${name}` }).click();
  await page.getByLabel('Role').selectOption('owner');
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await page.getByRole('row', { name }).getByText('Owner').waitFor();
  await page.getByRole('button', { name: `Remove ${name}` }).click();
  await page.getByRole('heading', { name: `Remove ${name}?` }).waitFor();
  expect(await faultsOf(page)).toEqual([]);
  await fits(page);
  await shot(page, `remove-${how.slice(0, 4)}`);
  await page
    .getByRole('button', { name: `Remove ${name}`, exact: true })
    .first()
    .click();
  await page.getByRole('heading', { name: `Remove ${name}?` }).waitFor({ state: 'detached' });
  await page.getByText('Removed', { exact: true }).waitFor();
  await page.getByRole('button', { name: `Remove ${name}` }).waitFor({ state: 'detached' });
  expect(await db.staffMember.count({ where: { email, removedAt: { not: null } } })).toBe(1);
  await theirs.reload();
  await theirs.waitForURL(/\/sign-in/);
});

test('a link that was used, or came in part, says what to do', async () => {
  const used = await open(`/password#${'x'.repeat(43)}`);
  await used.getByRole('alert').getByText('This link does not work any more').waitFor();
  expect(await faultsOf(used)).toEqual([]);
  const part = await open('/password');
  await part.getByText('Open the whole link from your email.').waitFor();
  const readable = await open(`${elsewhere}/password#${'x'.repeat(43)}`);
  expect(await readable.getByRole('alert').textContent()).toMatch(/^Choosing a password can’t work here.*HTTPS/);
  expect(await readable.locator('input').count()).toBe(0);
});

test('everywhere else is signed out by one button', async () => {
  const session = await sessionOf(open);
  const page = await open('/studio/account', { ...WIDE, storageState: session });
  await page.getByRole('button', { name: 'Sign out everywhere else' }).click();
  await page.getByRole('status').getByText('ended').waitFor();
  await page.reload();
  await page.getByText('You are').waitFor();
});
