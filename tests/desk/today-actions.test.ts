import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { payFor } from '../support/fixtures/bookings.js';
import { coursesFixture, workshopFixture } from '../support/fixtures/courses.js';
import { firedFixture, firingFixture } from '../support/fixtures/firings.js';
import { tariffFixture } from '../support/fixtures/kilns.js';
import { till } from '../support/fixtures/vouchers.js';
import { MUG, noted, piecesFixture } from '../support/fixtures/ware.js';
import { made, personFixture } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, openAll, PHONE, sessionOf } from './browser.js';

const studio = await testApp();
const { app, db, owner, clock } = studio;
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  await tariffFixture(owner);
  await clock.set('2026-03-10T09:00:00Z');
  session = await sessionOf(open);
});

/** Each use of the keyboard or a finger, as a person would count them. */
let interactions = 0;
beforeEach(() => {
  interactions = 0;
});
async function press(what: Locator): Promise<void> {
  interactions++;
  await what.click();
}
async function type(what: Locator, text: string): Promise<void> {
  interactions++;
  await what.fill(text);
}
async function choose(what: Locator, label: RegExp): Promise<void> {
  interactions++;
  const option = what.locator('option', { hasText: label });
  await what.selectOption((await option.getAttribute('value')) ?? '');
}

async function today(options: BrowserContextOptions): Promise<Page> {
  const page = await open('/', { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  await openAll(page); // on a phone the parts are closed: opening one is an interaction that is not counted here
  return page;
}
const dialog = (page: Page) => page.getByRole('dialog');
const inDialog = (page: Page, button: RegExp | string) => dialog(page).getByRole('button', { name: button });
const toast = (page: Page, text: string) => page.locator('.toast', { hasText: text }).waitFor();

/** What is seen before anything is done: nothing scrolls sideways, nothing is wrong with it, and no letter is on its way yet. */
async function expectFine(page: Page, options: BrowserContextOptions, letters?: number): Promise<void> {
  if (options === PHONE) await expectFits(page);
  expect(await faultsOf(page)).toEqual([]);
  if (letters !== undefined) expect(await db.notice.count()).toBe(letters);
}

/** Somebody's two mugs out of a glaze firing, ready to collect. */
async function readyWare(name: string) {
  const maker = await personFixture(owner, name);
  const shop = await workshopFixture(owner);
  const firing = await firingFixture(owner, { kilnId: shop.kiln.id, scheduleId: shop.stoneware.id });
  const ware = await piecesFixture(owner, maker.id, { stage: 'glazed', ware: [{ ...MUG, count: 2 }] });
  await firedFixture(owner, firing.id, ware);
  return { maker, firing, ware };
}

const stagesOf = async (ware: readonly { id: string }[]) =>
  (await db.piece.findMany({ where: { id: { in: ware.map(({ id }) => id) } } })).map(({ stage }) => stage);

describe.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('from today’s page, %s,', (where, options) => {
  test('a place is booked, with its terms and its letter seen first', async () => {
    const course = await home.addCourse({ title: `Wide bowls ${where}` });
    await personFixture(owner, `Nour Haddad ${where}`);
    const letters = await db.notice.count();
    const page = await today(options);
    await press(page.getByRole('button', { name: `Book a place on ${course.title}` }));
    await type(dialog(page).getByRole('searchbox'), `haddad ${where}`);
    await press(inDialog(page, `Nour Haddad ${where}`));
    await dialog(page).getByText('£120. The place is held until').waitFor();
    await dialog(page)
      .getByText(/^(Email to|Letter for) Nour Haddad/)
      .waitFor();
    await expectFine(page, options, letters);
    await press(inDialog(page, 'Book this place'));
    await toast(page, `One place booked for Nour Haddad ${where}`);
    expect(interactions).toBeLessThanOrEqual(4);
    expect(await db.booking.count({ where: { courseId: course.id } })).toBe(1);
    expect(await db.notice.count()).toBe(letters + 1);
    await page.context().close();
  });

  test('a place is booked for somebody who is new', async () => {
    const course = await home.addCourse({ title: `Small plates ${where}` });
    const page = await today(options);
    await press(page.getByRole('button', { name: `Book a place on ${course.title}` }));
    await type(dialog(page).getByRole('searchbox'), `Zoë Marlow ${where}`);
    await press(inDialog(page, /as a new person/));
    await type(dialog(page).getByLabel('Email'), 'zoe@example.org');
    await press(inDialog(page, 'Add this person'));
    await press(inDialog(page, 'Book this place'));
    await toast(page, 'One place booked');
    expect(interactions).toBeLessThanOrEqual(6);
    const booking = await db.booking.findFirstOrThrow({ where: { courseId: course.id }, include: { payer: true } });
    expect(booking.payer).toMatchObject({ name: `Zoë Marlow ${where}`, email: 'zoe@example.org' });
    await page.context().close();
  });

  test('a booking is cancelled, with its refund and why seen first', async () => {
    const course = await home.addCourse({ title: `Lidded jars ${where}` });
    const { id } = await personFixture(owner, `Ines Duval ${where}`);
    const wish = { payerId: id, attendeeIds: [id] };
    const booking = await made<{ id: string; chargeId: string; payerId: string }>(
      owner,
      `/api/courses/${course.id}/bookings`,
      wish,
    );
    await payFor(owner, booking as never, 3000);
    const letters = await db.notice.count();
    const page = await today(options);
    await press(page.getByRole('button', { name: `Bookings on ${course.title}` }));
    await press(inDialog(page, /^Cancel Ines Duval/));
    await dialog(page).getByText('£30 goes back.').waitFor();
    await expectFine(page, options, letters);
    await press(inDialog(page, 'Cancel booking, refund £30'));
    await toast(page, 'booking is cancelled, and £30 goes back');
    expect(interactions).toBeLessThanOrEqual(3);
    expect((await owner.get(`/api/bookings/${booking.id}`)).json()).toMatchObject({ state: 'cancelled', paidMinor: 0 });
    await page.context().close();
  });

  test('a firing is worked out and billed, with every share seen first', async () => {
    const { firing, maker } = await readyWare(`Tom Ashby ${where}`);
    const page = await today(options);
    await press(page.getByRole('button', { name: `Work out and bill firing ${firing.number}` }));
    await dialog(page).getByRole('table', { name: 'Who pays what' }).waitFor();
    expect(await dialog(page).getByRole('table').textContent()).toContain(`Tom Ashby ${where}2£`);
    await expectFine(page, options);
    expect(await db.charge.count({ where: { personId: maker.id } })).toBe(0);
    await press(inDialog(page, 'Bill one person'));
    await toast(page, `Firing ${firing.number} is worked out, and one person billed`);
    expect(interactions).toBeLessThanOrEqual(2);
    expect(await db.charge.count({ where: { personId: maker.id } })).toBe(1);
    await page.context().close();
  });

  test('makers are told that their ware is ready, each letter seen first', async () => {
    const { maker, ware } = await readyWare(`Ada Finch ${where}`);
    await noted(owner, ware, 'ready');
    const letters = await db.notice.count();
    const page = await today(options);
    await press(page.getByRole('button', { name: 'Send collection notices' }));
    await dialog(page).getByText('will be told that').waitFor();
    expect(await dialog(page).textContent()).toContain(`Ada Finch ${where}`);
    await expectFine(page, options, letters);
    await press(inDialog(page, /^Send \w+ notices?$/));
    await toast(page, 'sent. To print:');
    expect(interactions).toBeLessThanOrEqual(2);
    expect(await db.notice.count({ where: { personId: maker.id, occasion: 'collection' } })).toBe(1);
    await page.context().close();
  });

  test('ware is handed over and its fee taken; a payment taken by mistake is undone', async () => {
    const { maker, ware } = await readyWare(`Kim Orr ${where}`);
    await noted(owner, ware, 'ready');
    await till(studio, home.standard.id).ask(maker.id, 1250, {
      ...{ kind: 'firing', description: 'Firing 12, 3 pieces', inAdvance: false },
    });
    const page = await today(options);
    await press(page.getByRole('button', { name: 'Hand over ware' }));
    await choose(dialog(page).getByLabel('Whose'), new RegExp(`Kim Orr ${where}`));
    await dialog(page).getByText(`Kim Orr ${where} owes £12.50 for firing.`).waitFor();
    await expectFine(page, options);
    await press(inDialog(page, 'Hand over 2 pieces, then take payment'));
    await press(inDialog(page, 'Take £12.50'));
    await toast(page, `Kim Orr ${where} paid £12.50`);
    expect(interactions).toBeLessThanOrEqual(4);
    expect(await stagesOf(ware)).toEqual(['collected', 'collected']);
    const owed = async () => (await owner.get(`/api/debtors?personId=${maker.id}`)).json().items[0]?.owedMinor ?? 0;
    expect(await owed()).toBe(0);

    await page.locator('.toast').getByRole('button', { name: 'Undo' }).click();
    await dialog(page).getByText('£12.50 will be owed again').waitFor();
    await expectFine(page, options);
    await inDialog(page, 'Undo payment of £12.50').click();
    await toast(page, 'The payment of £12.50 is undone.');
    expect(await owed()).toBe(1250);
    await page.context().close();
  });

  test('ware is noted, some of it or all', async () => {
    const maker = await personFixture(owner, `Lin Park ${where}`);
    const ware = await piecesFixture(owner, maker.id, { ware: [{ ...MUG, count: 2 }] });
    const page = await today(options);
    await press(page.getByRole('button', { name: 'Note ware of Drying' }));
    await dialog(page)
      .getByText(ware[0]?.code ?? '')
      .waitFor();
    await inDialog(page, /^Note 0 pieces/).click();
    await dialog(page).getByRole('alert').waitFor(); // says what to choose, and keeps what is there
    for (const { code } of ware) await press(dialog(page).getByText(code));
    await expectFine(page, options);
    await press(inDialog(page, 'Note 2 pieces as bone dry'));
    await toast(page, 'Two pieces noted: bone dry.');
    expect(await stagesOf(ware)).toEqual(['dry', 'dry']);
    await page.context().close();
  });
});
