import type { BrowserContextOptions } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { personFixture } from '../support/fixtures.js';
import { browse, expectFine, expectFits, faultsOf, openAll, PHONE, sessionOf } from './browser.js';
import { keyboardOf } from './keyboard.js';

const { app, db, owner, clock } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
let home: Awaited<ReturnType<typeof coursesFixture>>;

beforeAll(async () => {
  home = await coursesFixture(owner);
  await clock.set('2026-03-20T09:00:00Z');
  session = await sessionOf(open);
  await owner.put('/api/web-page', { isOn: true, namesTutors: false, takesRequests: true });
});

const asked = (courseId: string, name: string, places = 1) =>
  db.placeRequest.create({
    data: {
      ...{ id: crypto.randomUUID(), courseId, name, places, askedAt: clock.now() },
      ...{ email: `${name.toLowerCase().replaceAll(' ', '.')}@example.org`, phone: '01632 960114' },
    },
  });

describe.each([
  ['at a desk', {}],
  ['on a phone', PHONE],
] as const)('%s, by keyboard,', (where, options) => {
  test('somebody who is not signed in asks for two places', async () => {
    const { id } = await home.addCourse({ title: `Bowls ${where}`, places: 4 });
    const page = await open(`/ask/${id}`, options);
    const { press, write } = keyboardOf(page);
    await page.getByRole('heading', { name: `Ask for a place on Bowls ${where}` }).waitFor();
    await page.getByText('£120 for a place, four places left.').waitFor();
    await write('Places', 'some');
    await write('Your name', 'Nadia Okoro');
    await write('Email', 'nadia@example.org');
    await press('Ask for a place');
    await page.getByText('Write a whole number from 1 to 20.').first().waitFor();
    expect(await page.getByLabel('Your name').inputValue()).toBe('Nadia Okoro');
    await expectFine(page, options);
    await write('Places', '2');
    await press('Ask for a place');
    await page.getByText('knows that you would like two places, and will answer nadia@example.org').waitFor();
    expect(await faultsOf(page)).toEqual([]);
    expect(await db.placeRequest.findFirst({ where: { courseId: id } })).toMatchObject({ places: 2, answer: null });
    await db.placeRequest.deleteMany();
    await page.context().close();
  });

  test('a request waits on Today, and is booked for somebody new in four interactions', async () => {
    const { id } = await home.addCourse({ title: `Jars ${where}`, places: 4 });
    await asked(id, `Nadia Okoro ${where}`);
    const page = await open('/', { ...options, storageState: session });
    await page.locator('main[aria-busy=false] .answer', { hasText: 'one request for a place' }).waitFor();
    await openAll(page);
    const { press, interactions } = keyboardOf(page);
    await expectFine(page, options);
    await press(`Book one place for Nadia Okoro ${where}`);
    await page.getByRole('dialog').getByText('is not in your books by the address').waitFor();
    expect(await faultsOf(page)).toEqual([]);
    await press(`Add Nadia Okoro ${where} as a new person`);
    await page.getByRole('dialog').getByText('£120. The place is held until').waitFor();
    if (options === PHONE) await expectFits(page);
    await press('Book this place');
    await page.locator('.toast', { hasText: `One place booked for Nadia Okoro ${where}` }).waitFor();
    expect(interactions()).toBeLessThanOrEqual(4);
    await page.locator('#requests').waitFor({ state: 'detached' });
    expect(await db.placeRequest.findFirst({ where: { courseId: id } })).toMatchObject({ answer: 'booked' });
    expect(await db.person.findFirst({ where: { name: `Nadia Okoro ${where}` } })).toMatchObject({
      phone: '01632 960114',
    });
    await page.context().close();
  });

  test('of a full course, who is known waits; another is declined', async () => {
    const { id } = await home.addCourse({ title: `Tiles ${where}`, places: 1, minimum: 1 });
    const ana = await personFixture(owner, `Ana Lind ${where}`);
    await owner.post(`/api/courses/${id}/bookings`, { payerId: ana.id, attendeeIds: [ana.id] });
    const cleo = await personFixture(owner, `Cleo Marsh ${where}`);
    const { email } = await asked(id, `Cleo Marsh ${where}`);
    await db.person.update({ where: { id: cleo.id }, data: { email } });
    await asked(id, `Ivo Brandt ${where}`);
    const page = await open('/', { ...options, storageState: session });
    await page.locator('main[aria-busy=false] #requests').waitFor();
    await openAll(page);
    const { press } = keyboardOf(page);
    await press(`Put on the waiting list for Cleo Marsh ${where}`);
    await page.getByRole('dialog').getByText(`${email} is in your books. Who is it?`).waitFor();
    await press(`Cleo Marsh ${where}`);
    await page.locator('.toast', { hasText: 'is on the waiting list' }).waitFor();
    expect(await db.waitingEntry.findFirst({ where: { courseId: id } })).toMatchObject({ personId: cleo.id });
    await press(`Decline Ivo Brandt ${where}`);
    await page.getByRole('dialog').getByText('No letter is sent').waitFor();
    await press('Decline it');
    await page.locator('#requests').waitFor({ state: 'detached' });
    expect(await db.placeRequest.findMany({ where: { courseId: id }, orderBy: { id: 'asc' } })).toHaveLength(2);
    expect(await db.placeRequest.count({ where: { answer: null } })).toBe(0);
    await page.context().close();
  });
});
