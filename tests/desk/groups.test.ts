import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Plan } from '../../src/studio/courses/plan-contract.js';
import { testApp } from '../support/app.js';
import { coursesFixture, planBody } from '../support/fixtures/courses.js';
import { made, personFixture } from '../support/fixtures.js';
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
const choose = async (page: Page, name: string) => {
  await dialog(page).getByRole('searchbox').fill(name);
  await key(dialog(page).getByRole('button', { name, exact: true }));
};

describe.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('%s, by keyboard,', (where, options) => {
  test('a private session is booked for a group with one name, and its guests are named later', async () => {
    const body = { ...planBody(home), kind: 'private', groupOf: 4, minimum: 1, secondTutor: null };
    const plan = await made<Plan>(owner, '/api/course-plans', body);
    const terms = { planId: plan.id, minimum: 1, priceMinor: 24_000, perHeadAboveMinor: 2500 };
    const course = await home.addCourse({ ...terms, title: `Hens ${where}` });
    const [ana, bo] = [await personFixture(owner, `Ana Ruiz ${where}`), await personFixture(owner, `Bo Ruiz ${where}`)];
    const page = await opened(`/courses/${course.id}`, options);
    await key(page.getByRole('button', { name: `Book a place on ${course.title}` }).first());
    await choose(page, ana.name);
    await dialog(page).getByLabel('How many more come').fill('5');
    await dialog(page).getByText('£290').first().waitFor();
    await expectFine(page, options);
    await key(dialog(page).getByRole('button', { name: 'Book for 6 people', disabled: false }));
    await page.getByText(`${ana.name} and 5 more without a name`).waitFor();
    await key(page.locator('.toast').getByRole('button', { name: 'Close' }));
    await expectFine(page, options);

    const register = await opened(`/courses/${course.id}/register`, options);
    await register.getByText(`Five more people in ${ana.name}’s group, without a name.`).waitFor();
    await key(register.getByRole('button', { name: `Name guests of ${ana.name}` }));
    await choose(register, bo.name);
    await expectFine(register, options);
    await key(dialog(register).getByRole('button', { name: 'Save' }));
    await register.getByRole('link', { name: bo.name }).waitFor();
    await register.getByText('Four more people').waitFor();
    await expectFine(register, options);
  });

  test('a bench of open studio is sold on the same pages', async () => {
    const making = [{ purpose: 'making', minutes: 150, prepareMinutes: 15, clearMinutes: 15 }];
    const open = { kind: 'openStudio', minimum: 0, pieces: [], firings: [], sessions: making };
    const plan = await made<Plan>(owner, '/api/course-plans', { ...planBody(home), ...open });
    const room = await made(owner, '/api/rooms', { name: `Wheels ${where}`, benches: 10 });
    const [evening] = home.body.sessions;
    const sessions = [{ ...evening, roomId: room.id }];
    const terms = { planId: plan.id, minimum: 0, priceMinor: 1800, depositMinor: 0, sessions };
    const visit = await home.addCourse({ ...terms, title: `Open studio ${where}` });
    const cy = await personFixture(owner, `Cy Marsh ${where}`);
    const page = await opened(`/courses/${visit.id}`, options);
    await key(page.getByRole('button', { name: `Book a place on ${visit.title}` }).first());
    await choose(page, cy.name);
    await dialog(page).getByText('£18').first().waitFor();
    await expectFine(page, options);
    await key(dialog(page).getByRole('button', { name: 'Book this place', disabled: false }));
    await page.locator('.toast', { hasText: 'One place booked' }).waitFor();
    await page
      .getByRole('row', { name: new RegExp(cy.name) })
      .first()
      .waitFor();
    const { people } = (await owner.get(`/api/courses/${visit.id}/register`)).json();
    expect(people).toMatchObject([{ name: cy.name }]);
  });
});
