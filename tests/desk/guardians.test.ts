import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { beforeAll, describe, test } from 'vitest';
import type { Person } from '../../src/studio/people/contract.js';
import { testApp } from '../support/app.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { made } from '../support/fixtures.js';
import { browse, expectFine, PHONE, sessionOf } from './browser.js';

const { app, owner } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
  session = await sessionOf(open);
});

const opened = async (path: string, options: BrowserContextOptions): Promise<Page> => {
  const page = await open(path, { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  return page;
};
const dialog = (page: Page) => page.getByRole('dialog');
const key = async (what: Locator) => what.press('Enter');

describe.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('%s, by keyboard,', (where, options) => {
  test('a child has a guardian; who is missing is told when a place is booked, and who is to be rung on the register', async () => {
    const add = (name: string, more: object = {}) =>
      made<Person>(owner, '/api/people', { name: `${name} ${where}`, ...more });
    const ana = await add('Ana Marsh', { email: 'ana@example.org', phone: '07700 900123' });
    const ivo = await add('Ivo Marsh');
    const course = await home.addCourse({ title: `Small pots ${where}` });

    const page = await opened(`/people/${ivo.id}`, options);
    await key(page.getByRole('button', { name: 'Change this person' }));
    await page.getByLabel('Age', { exact: true }).selectOption('child');
    await page.getByLabel('Wishes').fill('Dragons');
    await page.getByLabel('Note for the studio').fill('Comes by bus');
    await expectFine(page, options);
    await key(page.getByRole('button', { name: 'Save' }));
    await page.getByText(`Nobody is noted who answers for ${ivo.name}. Say whom to ring.`).waitFor();
    await page.getByText('Comes by bus').waitFor();

    const book = await opened(`/courses/${course.id}`, options);
    await key(book.getByRole('button', { name: `Book a place on ${course.title}` }).first());
    await dialog(book).getByRole('searchbox').fill(`ivo marsh ${where}`);
    await key(dialog(book).getByRole('button', { name: ivo.name, exact: true }));
    await dialog(book).getByText(`${ivo.name} is a child, and nobody is noted who answers for them.`).waitFor();
    await expectFine(book, options);
    await key(dialog(book).getByRole('button', { name: 'Book this place', disabled: false }));
    await book.locator('.toast', { hasText: 'One place booked' }).waitFor();

    const register = await opened(`/courses/${course.id}/register`, options);
    await register.getByText('A child, and nobody is noted whom to ring.').waitFor();
    await expectFine(register, options);

    await key(page.getByRole('button', { name: 'Change guardians' }));
    await dialog(page).getByRole('searchbox').fill('07700 9001');
    await key(dialog(page).getByRole('button', { name: ana.name, exact: true }));
    await expectFine(page, options);
    await key(dialog(page).getByRole('button', { name: 'Save' }));
    await page.getByRole('link', { name: ana.name }).waitFor();
    await page.getByText('Nobody is noted').waitFor({ state: 'detached' });
    await expectFine(page, options);

    await register.reload();
    await register.getByText('A child. Ring').waitFor();
    await register.getByRole('link', { name: '07700 900123' }).waitFor();
    await register.getByText('Before class: a consent is missing for one child.').waitFor();
    await key(register.getByRole('button', { name: `Note consent for ${ivo.name}` }));
    await dialog(register).getByLabel('Agreed to what').fill('Takes part, goes home alone');
    await expectFine(register, options);
    await key(dialog(register).getByRole('button', { name: 'Note this consent' }));
    await register.getByText(`${ana.name} agreed on paper on 10 March 2026, for ${course.title}: Takes part`).waitFor();
    await register.getByText('Before class').waitFor({ state: 'detached' });
    await expectFine(register, options);

    await page.reload();
    await key(page.getByRole('button', { name: /^Withdraw this consent/ }));
    await page.getByText('; withdrawn on 10 March 2026').waitFor();
    await expectFine(page, options);
  });
});
