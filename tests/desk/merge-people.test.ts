import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
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
const merge = (page: Page) => key(dialog(page).getByRole('button', { name: 'Make them one', disabled: false }));
const dialog = (page: Page) => page.getByRole('dialog');
const key = async (what: Locator, pressed = 'Enter') => what.press(pressed);

describe.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('%s, by keyboard,', (where, options) => {
  const add = (name: string, more: object = {}) =>
    made<Person>(owner, '/api/people', { name: `${name} ${where}`, ...more });
  const book = (courseId: string, { id }: Person) =>
    made(owner, `/api/courses/${courseId}/bookings`, { payerId: id, attendeeIds: [id] });

  test('somebody who is there twice becomes one; the address of the other entry leads on', async () => {
    const [own, other] = [`ann${where.length}@example.org`, `anna${where.length}@example.org`];
    const ann = await add('Ann Sorrel', { email: own });
    const anna = await add('Anna Sorrel', { email: other, phone: `07700 9001${where.length}` });
    await book((await home.addCourse()).id, ann);
    await book((await home.addCourse()).id, anna);
    const page = await opened(`/people/${ann.id}`, options);
    await key(page.getByRole('button', { name: 'The same person as …' }));
    await dialog(page).getByRole('searchbox').fill('sorrel');
    await key(dialog(page).getByRole('button', { name: anna.name, exact: true }));
    await dialog(page).getByText(`One booking, one place on a course, one charge`).waitFor();
    await dialog(page).getByText('By the books they owe £240: £120 and £120.').waitFor();
    await dialog(page).getByLabel('Email').selectOption('other');
    await expectFine(page, options);
    await merge(page);
    await page.locator('.toast', { hasText: `${ann.name} is one entry now.` }).waitFor();
    await page.getByRole('heading', { name: 'Earlier entries of theirs' }).waitFor();
    await page.getByText(`${anna.name} · ${other} · ${anna.phone}`).waitFor();
    await page.getByText(`Until then this entry said: ${own}`).waitFor();
    await page.getByText('owes £240').waitFor();
    await expectFine(page, options);
    expect((await owner.get(`/api/people/${ann.id}`)).json()).toMatchObject({
      ...{ name: ann.name, email: other, phone: anna.phone },
    });
    const led = await opened(`/people/${anna.id}`, options);
    await led.getByRole('heading', { name: ann.name, level: 1 }).waitFor();
    await led.waitForURL(new RegExp(ann.id));
  });

  test('two on one course are told apart, with what to do', async () => {
    const [ivo, ivy, course] = [await add('Ivo Marsh'), await add('Ivy Marsh'), await home.addCourse()];
    await book(course.id, ivo);
    await book(course.id, ivy);
    const page = await opened(`/people/${ivo.id}`, options);
    await key(page.getByRole('button', { name: 'The same person as …' }));
    await dialog(page).getByRole('searchbox').fill(`ivy marsh ${where}`);
    await key(dialog(page).getByRole('button', { name: ivy.name, exact: true }));
    await dialog(page).getByText('If they are one person, cancel one of the two places first.').waitFor();
    expect(await dialog(page).getByRole('button', { name: 'Make them one' }).count()).toBe(0);
  });

  test('the list of people tells who may be one person, and asks', async () => {
    const zoe = await add('Zoë Duval', { email: `zoe${where.length}@example.org` });
    const same = await add('ZOE DUVAL');
    const son = await add('Max Duval', { email: `zoe${where.length}@example.org` });
    const page = await opened('/people', options);
    await page.getByText('Two pairs may be one person twice').click();
    await expectFine(page, options);
    await key(page.getByRole('button', { name: `Two people ${zoe.name} and ${son.name}` }));
    await page.locator('.toast', { hasText: 'They are not suggested again.' }).waitFor();
    await page.getByText('One pair may be one person twice').waitFor();
    await key(page.getByRole('button', { name: `One person ${zoe.name} and ${same.name}` }));
    await dialog(page).getByLabel('Entry that stays').selectOption(same.id);
    await dialog(page).getByText('Nothing else is theirs. They owe nothing.').waitFor();
    await expectFine(page, options);
    await merge(page);
    await page.locator('.toast', { hasText: `${same.name} is one entry now.` }).waitFor();
    await page.getByText('may be one person twice').waitFor({ state: 'detached' });
    expect((await owner.get(`/api/people/${zoe.id}`)).json().id).toBe(same.id);
  });
});
