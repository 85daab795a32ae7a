import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Course } from '../../src/studio/courses/contract.js';
import type { Plan } from '../../src/studio/courses/plan-contract.js';
import { testApp } from '../support/app.js';
import { planBody, workshopFixture } from '../support/fixtures/courses.js';
import { kindFixture, membershipFixture } from '../support/fixtures/memberships.js';
import { made, personFixture, studioFixture } from '../support/fixtures.js';
import { browse, expectFine, PHONE, sessionOf } from './browser.js';

const { app, db, owner, clock } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let standard: { id: string };
let refundPolicyId: string;

beforeAll(async () => {
  const home = await studioFixture(owner);
  standard = home.standard;
  refundPolicyId = home.refundPolicy.id;
  session = await sessionOf(open);
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

let rooms = 0;
/** Three hours of open studio at £12, all of it the deposit, in a room of its own. */
async function openStudio(): Promise<Course> {
  const room = await made(owner, '/api/rooms', { name: `Bench room ${++rooms}`, benches: 10 });
  const plan = await made<Plan>(owner, '/api/course-plans', {
    ...{ ...planBody(await workshopFixture(owner)), kind: 'openStudio', minimum: 0, pieces: [], firings: [] },
    sessions: [{ purpose: 'making', minutes: 180, prepareMinutes: 10, clearMinutes: 10 }],
  });
  return made<Course>(owner, '/api/courses', {
    ...{ planId: plan.id, title: 'Open studio', places: 8, minimum: 0, priceMinor: 1200, depositMinor: 0 },
    ...{ holdHours: 48, balanceDueDays: 0, taxRateId: standard.id, refundPolicyId },
    sessions: [{ startsAt: '2026-03-20T10:00:00Z', endsAt: '2026-03-20T13:00:00Z', roomId: room.id }],
  });
}

async function at(path: string, options: BrowserContextOptions): Promise<Page> {
  const page = await open(path, { ...options, storageState: session });
  await page.locator('main[aria-busy=false]').waitFor();
  return page;
}
const dialog = (page: Page) => page.getByRole('dialog');
const inDialog = (page: Page, name: RegExp | string) => dialog(page).getByRole('button', { name, exact: true });
const toast = (page: Page, text: string) => page.locator('.toast', { hasText: text }).waitFor();
const key = async (what: Locator, pressed = 'Enter') => what.press(pressed);

describe.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('%s, by keyboard,', (where, options) => {
  test('a kind of membership is added, and its fee raised with a letter to each member', async () => {
    const name = `Bench ${where}`;
    const page = await at('/people/members/kinds', options);
    await key(page.getByRole('button', { name: 'Add a kind of membership' }));
    await page.getByLabel('Name').fill(name);
    await page.getByLabel('Fee for a month, GBP').fill('60');
    await page.getByLabel('VAT').selectOption({ label: 'Standard' });
    await page.getByLabel('Hours at a bench, each month').fill('10');
    await page.getByLabel('A shelf').selectOption('yes');
    await expectFine(page, options);
    await key(page.getByRole('button', { name: 'Add kind of membership' }));
    await page.getByText(`“${name}” is saved.`).waitFor();
    const { id } = await db.membershipKind.findUniqueOrThrow({ where: { name } });
    const member = await personFixture(owner, `Ines Duval ${where}`);
    await membershipFixture(owner, member.id, id, '2026-03-01');
    await page.reload();
    await page.getByRole('row', { name: new RegExp(`${name}.*10 hours at a bench of open studio, a shelf`) }).waitFor();
    await key(page.getByRole('button', { name: `New fee for ${name}` }));
    await dialog(page).getByLabel('Fee for a month, GBP').fill('66');
    await dialog(page).getByText('It reaches one member, each by letter.').waitFor();
    await expectFine(page, options);
    await key(inDialog(page, 'Save it and send one letter'));
    await toast(page, 'The new fee is saved.');
    expect(await db.membershipFee.count({ where: { membership: { kindId: id }, feeMinor: 6600 } })).toBe(1);
    await page.context().close();
  });

  test('somebody becomes a member from their page, seen first, and is in the list with what they owe', async () => {
    const kind = await kindFixture(owner, standard.id, { name: `Shelf ${where}`, hasShelf: true, benchMinutes: 600 });
    await kindFixture(owner, standard.id); // so there is a choice
    const shelf = await made<{ id: string }>(owner, '/api/boards', { name: `Rack ${where}`, kind: 'shelf' });
    const person = await personFixture(owner, `Tom Ashby ${where}`);
    const page = await at(`/people/${person.id}`, options);
    await key(page.getByRole('button', { name: 'Start a membership' }));
    await dialog(page).getByLabel('Membership').selectOption(kind.id);
    await dialog(page).getByLabel('Shelf').selectOption(shelf.id);
    await dialog(page).getByText('Charged now: £42.58 for March 2026. Then £60 on 1 April.').waitFor();
    await expectFine(page, options);
    expect(await db.membership.count({ where: { personId: person.id } })).toBe(0);
    await key(inDialog(page, 'Start it'));
    await toast(page, `started for Tom Ashby ${where}.`);
    await page.getByRole('row', { name: new RegExp(`${kind.name}.*Current.*£42.58`) }).waitFor();
    await expectFine(page, options);
    await page.goto(new URL('/people/members', page.url()).href);
    await page.getByLabel('Name, email or phone').fill(`ashby ${where}`);
    await page.getByText('One membership').first().waitFor();
    await expectFine(page, options);
    await key(page.getByRole('link', { name: `Tom Ashby ${where}` }));
    await page.getByText('£42.58 owed').waitFor();
    await page.getByText('£60.00 × 22 ÷ 31 days').waitFor();
    await expectFine(page, options);
    await page.context().close();
  });

  test('it is paused, ends with notice, and goes on after all', async () => {
    const kind = await kindFixture(owner, standard.id, { pausePercent: '25' });
    const person = await personFixture(owner, `Wren Ashdown ${where}`);
    const { id } = await membershipFixture(owner, person.id, kind.id, '2026-03-01');
    const page = await at(`/people/members/${id}`, options);
    await key(page.getByRole('button', { name: 'Pause', exact: false }).first());
    await dialog(page).getByLabel('Last day').fill('2026-03-24');
    // 16 days in full and 15 at a quarter, of 31: 6000 × 19.75 / 31 = 3822.58…, so £21.77 comes off
    await dialog(page).getByText('£21.77 is taken off what was charged.').waitFor();
    await expectFine(page, options);
    await key(inDialog(page, 'Pause it'));
    await toast(page, 'Paused until 24 March 2026.');
    await page.getByText('£60.00 × (16 + 15 paused × 25%) ÷ 31 days').waitFor();
    await key(page.getByRole('button', { name: 'Give notice' }));
    await dialog(page).getByText('£20 is charged on 1 April.').waitFor(); // 6000 × 10 / 30
    await key(inDialog(page, 'End it on 10 April 2026'));
    await toast(page, 'It ends on 10 April 2026.');
    await expectFine(page, options);
    await key(page.getByRole('button', { name: 'Take notice back' }));
    await key(inDialog(page, 'Let it go on'));
    await toast(page, 'The membership goes on.');
    await page.getByRole('button', { name: 'Give notice' }).waitFor();
    await page.context().close();
  });

  test('a bench within the included hours costs nothing, shown before it is booked, and is counted', async () => {
    const kind = await kindFixture(owner, standard.id, { benchMinutes: 300 });
    const person = await personFixture(owner, `Halina Reyl ${where}`);
    const { id } = await membershipFixture(owner, person.id, kind.id, '2026-03-01');
    const [one, two] = [await openStudio(), await openStudio()];
    const page = await at(`/courses/${one.id}`, options);
    await key(page.getByRole('button', { name: /^Book a place/ }).first());
    await dialog(page).getByRole('searchbox').fill(`reyl ${where}`);
    await key(inDialog(page, `Halina Reyl ${where}`));
    await dialog(page).getByText('Nothing to pay: membership includes all of £12.').waitFor();
    await expectFine(page, options);
    await key(inDialog(page, 'Book this place'));
    await toast(page, `booked for Halina Reyl ${where}.`);
    await page.goto(new URL(`/courses/${two.id}`, page.url()).href);
    await key(page.getByRole('button', { name: /^Book a place/ }).first());
    await dialog(page).getByRole('searchbox').fill(`reyl ${where}`);
    await key(inDialog(page, `Halina Reyl ${where}`));
    await dialog(page).getByText('£4, since membership includes £8 of £12.').waitFor();
    await key(inDialog(page, 'Book this place'));
    await toast(page, `booked for Halina Reyl ${where}.`);
    await page.goto(new URL(`/people/members/${id}`, page.url()).href);
    await page.getByRole('row', { name: /Bench.*5 hours.*5 hours.*0 hours.*1 hour.*£4.00/ }).waitFor();
    await key(page.getByText('How that adds up'));
    await page.getByRole('row', { name: /Open studio.*3 hours.*2 hours.*£8.00.*£4.00/ }).waitFor();
    await expectFine(page, options);
    await page.context().close();
  });
});
