import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { inTransaction } from '../../src/database/transaction.js';
import { buildApp } from '../../src/server/app.js';
import { newSetUpToken } from '../../src/studio/staff/service.js';
import { testDatabase } from '../support/database.js';
import { browse, expectFits, expectNoSidewaysScroll, faultsOf, PHONE } from './browser.js';

/** As many clicks, fields and choices as a new owner may need from the link to the first course in the calendar. */
const INTERACTIONS_MAX = 60;

/** A person before the desk: each click, each field filled and each choice counts. */
function personAt(page: Page) {
  let interactions = 0;
  const click = async (what: Locator) => {
    interactions++;
    await what.click();
  };
  return {
    count: () => interactions,
    press: (name: string) => click(page.getByRole('button', { name, exact: true })),
    follow: (name: string) => click(page.getByRole('link', { name, exact: true })),
    send: (form: string) => click(page.locator(`${form} [type=submit]`)),
    fill: async (label: string, value: string, within: Page | Locator = page) => {
      interactions++;
      await within.getByLabel(label, { exact: true }).fill(value);
    },
    choose: async (label: string, option: string, within: Page | Locator = page) => {
      interactions++;
      await within.getByLabel(label, { exact: true }).selectOption({ label: option });
    },
  };
}
type Person = ReturnType<typeof personAt>;

const stepOf = (page: Page, title: string) =>
  page.locator('.steps > li').filter({ has: page.getByRole('heading', { name: new RegExp(`^${title} `) }) });

async function enterStudio(page: Page, person: Person): Promise<void> {
  await person.fill('Your name', 'Mara Lind');
  await person.fill('Email address', 'mara@alderlane.example');
  await person.fill('Password', 'clay under the nails');
  await person.press('Make me the owner');
  await page.waitForURL(/\/studio$/);
  await person.fill('Name', 'Alder Lane Pottery');
  await person.fill('Address', '7 Alder Lane\nOstlemere');
  await person.press('Save and continue');
  await person.follow('Take the first steps');
  await page.locator('.steps').waitFor();
}

/** What the page says is the one thing to do next. */
const filled = (page: Page) => page.locator('main button:not(.quiet)').allTextContents();

/** What this owner knows is filled in; what she doesn't stays as it is. */
async function takeSteps(page: Page, person: Person): Promise<void> {
  const room = stepOf(page, 'Room');
  expect(await filled(page)).toEqual(['Save room']);
  await person.fill('Places to work', '6', room);
  await person.press('Save room');
  await room.getByText('Done: Studio').waitFor();
  expect(await filled(page)).toEqual(['Save kiln']);
  const kiln = stepOf(page, 'Kiln');
  await person.choose('Shape', 'rectangular', kiln);
  await person.fill('Inside width, mm', '450', kiln);
  await person.fill('Inside depth, mm', '440', kiln);
  await person.fill('Inside height, mm', '500', kiln);
  await person.fill('Rated power, kW', 'nine', kiln);
  await person.press('Save kiln');
  await kiln.getByRole('alert').first().waitFor();
  expect(await kiln.getByLabel('Inside depth, mm').inputValue()).toBe('440');
  await person.fill('Rated power, kW', '9', kiln);
  await person.press('Save kiln');
  await kiln.getByText('Done: Kiln').waitFor();
  await person.fill('Name', 'Grey stoneware', stepOf(page, 'Clay'));
  await person.fill('Price per kWh, GBP', '0.31', stepOf(page, 'Electricity'));
  await person.fill('Name', 'Moss', stepOf(page, 'Glaze'));
  await person.press('Save the rest as shown');
  await page.getByRole('link', { name: 'Write your first plan' }).waitFor();
}

async function writePlan(page: Page, person: Person): Promise<void> {
  await person.follow('Write your first plan');
  await person.fill('What do you call it?', 'Two evenings');
  await person.fill('Places', '6');
  await person.choose('Glaze', 'Moss');
  await person.send('form.planning');
  await page.waitForURL(/\/courses\/plans\/[0-9a-f-]{36}$/);
}

async function putInCalendar(page: Page, person: Person, price: string): Promise<void> {
  await person.press('Put it in the calendar');
  await person.fill('First day', '2026-05-05');
  await person.choose('Then', 'every two weeks');
  await page.getByText(`If it ran today, it must cost £${price}`).waitFor();
  await person.fill('A place costs, GBP', price);
  await person.press('Put it in the calendar');
  await page.locator('.done').filter({ hasText: 'is in the calendar' }).waitFor();
}

const SCREENS: [string, BrowserContextOptions][] = [
  ['at 1280 px', { viewport: { width: 1280, height: 800 } }],
  ['at 360 px in the dark', { ...PHONE, colorScheme: 'dark' }],
];

test.each(SCREENS)(
  'a new owner gets from the link to the first course on the desk alone, %s',
  async (name, options) => {
    const { db } = await testDatabase();
    const { open } = await browse(await buildApp({ db, now: () => new Date('2026-03-10T09:00:00Z') }));
    const token = await inTransaction(db, (tx) => newSetUpToken(tx, new Date('2026-03-10T09:00:00Z')));
    const page = await open(`/set-up#${token}`, { ...options, locale: 'en-GB', timezoneId: 'Europe/London' });
    const person = personAt(page);
    const expectFine = async () => {
      await ('hasTouch' in options ? expectFits(page) : expectNoSidewaysScroll(page));
      expect(await faultsOf(page)).toEqual([]);
    };
    await enterStudio(page, person);
    await expectFine();
    await takeSteps(page, person);
    await expectFine();
    const assumed = (await db.assumption.findMany()).map(({ kind, figures }) => `${kind}: ${figures.join(', ')}`);
    expect(assumed).toContainEqual(expect.stringMatching(/^kiln: .*How full it usually is/));
    expect(assumed.join()).not.toContain('Price per kWh');
    expect(assumed).toContainEqual(expect.stringMatching(/^material: .*Dry grams in a millilitre/));

    await writePlan(page, person);
    await page.locator('.fair b').waitFor();
    const fair = ((await page.locator('.fair b').textContent()) ?? '').replace('£', '');
    expect(Number(fair)).toBeGreaterThan(20);
    await page.getByText(/^Assumptions: the kiln “Kiln”/).waitFor();
    await expectFine();
    await putInCalendar(page, person, fair);

    process.stdout.write(`From the link to the first course, ${name}: ${person.count()} interactions.\n`);
    expect(person.count()).toBeLessThanOrEqual(INTERACTIONS_MAX);
    const [course] = await db.course.findMany({ include: { sessions: true } });
    expect(course).toMatchObject({ priceMinor: Math.round(Number(fair) * 100), sessions: [{}, {}] });

    await page.goto(new URL('/studio/start', page.url()).href);
    await page.getByText('Your first course is in the calendar').waitFor();
    expect(await page.locator('.steps').count()).toBe(0);
    const kept = await db.assumption.count();
    await page.getByRole('button', { name: 'Refunds “Usual terms” is right' }).click();
    await expect.poll(() => db.assumption.count()).toBe(kept - 1);
    await expectFine();
    await page.goto(new URL('/', page.url()).href);
    await page.locator('.answer').waitFor();
    expect(await page.getByText('Take the first steps').count()).toBe(0);
    await page.context().close();
  },
);
