import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { made } from '../support/fixtures.js';
import { faultsOf } from './browser.js';
import { planPages } from './plan-pages.js';

const { db, owner, at, newPlan, fixture } = await planPages();

describe('a plan is put in the calendar', () => {
  const dated = async (id: string): Promise<Page> => {
    const page = await at(`/courses/plans/${id}`);
    await page.getByRole('button', { name: 'Put it in the calendar' }).click();
    await page.getByLabel('First day').fill('2026-09-01');
    return page;
  };
  const send = (page: Page) => page.getByRole('form').getByRole('button', { name: 'Put it in the calendar' }).click();

  test('with a day proposed for each session that its ware can reach', async () => {
    const plan = await newPlan();
    const room = await made(owner, '/api/rooms', { name: 'Glaze room', benches: 8 });
    const page = await dated(plan.id);
    await page.getByLabel('Session 2, day').waitFor();
    expect(await page.getByLabel('Session 2, day').inputValue()).toBe('2026-09-08'); // five days of drying, and a firing
    await page.getByLabel('Session 2, day').fill('2026-09-05');
    expect(await page.getByRole('status').textContent()).toMatch(/Too soon: .* by Tuesday 8 September/);
    await page.getByLabel('Session 2, day').fill('2026-09-15');
    expect(await page.getByText('Too soon').count()).toBe(0);
    await page.getByLabel('Room').selectOption(room.id);
    await page.getByText(/If it ran today, it must cost £/).waitFor();
    await send(page);
    expect(await page.locator('#at-priceMinor-fault').textContent()).toContain('Write an amount in GBP');
    await page.getByLabel('A place costs').fill('125');
    await page.getByLabel('Deposit').fill('25');
    await send(page);
    await page.locator('.done').filter({ hasText: 'is in the calendar from 1 September' }).waitFor();
    expect(await page.locator('.done').evaluate((done) => done === document.activeElement)).toBe(true);
    const { id } = await db.course.findFirstOrThrow({ where: { planId: plan.id } });
    expect((await owner.get(`/api/courses/${id}`)).json()).toMatchObject({
      ...{ title: plan.name, priceMinor: 12_500, depositMinor: 2500, places: 8, minimum: 4 },
      sessions: [
        { startsAt: '2026-09-01T18:00:00.000Z', endsAt: '2026-09-01T20:30:00.000Z', roomName: 'Glaze room' },
        { startsAt: '2026-09-15T18:00:00.000Z', endsAt: '2026-09-15T20:00:00.000Z' },
      ],
    });
    expect(await page.getByRole('link', { name: /^The price of .* from 1 September/ }).getAttribute('href')).toBe(
      `/courses/price/${id}`,
    );
    await page.context().close();
  });

  test('not where something else is there already: which, and what to do, is said in words', async () => {
    const plan = await newPlan();
    const small = await made(owner, '/api/rooms', { name: 'Small room', benches: 4 });
    const page = await dated(plan.id);
    await page.getByLabel('Room').selectOption(small.id);
    await page.getByLabel('A place costs').fill('125');
    await page.getByText(/If it ran today, it must cost £/).waitFor();
    await send(page);
    expect(await page.getByRole('alert').textContent()).toMatch(
      /^Small room has 4 benches and the session needs 8. Choose a larger room.*What you typed is still here/,
    );
    await page.getByLabel('Room').selectOption({ index: 1 });
    await page.getByLabel('Session 2, day').fill('2026-09-03');
    await send(page);
    await page.getByRole('alert').filter({ hasText: 'Session 2 (glazing) can' }).waitFor();
    expect(await db.course.count({ where: { planId: plan.id } })).toBe(0);
    await page.context().close();
  });

  test('as a series: half-term is left out by itself, a date is struck out, and each date says what is in its way', async () => {
    const small = await made(owner, '/api/rooms', { name: 'Wheel corner', benches: 8 });
    await owner.post('/api/closures', { name: 'half-term', from: '2026-10-26', to: '2026-10-30' });
    const plan = await newPlan({
      ...{ kind: 'openStudio', minimum: 0, pieces: [], firings: [] },
      sessions: [{ purpose: 'making', minutes: 120, prepareMinutes: 0, clearMinutes: 0 }],
    });
    const page = await at(`/courses/plans/${plan.id}`);
    await page.getByRole('button', { name: 'Put it in the calendar' }).click();
    await page.getByLabel('First day').fill('2026-10-06');
    await page.getByLabel('How often').fill('5');
    const days = async () => {
      const fields = await page.getByLabel(/^Session \d+, day$/).all();
      return Promise.all(fields.map((field) => field.inputValue()));
    };
    await expect.poll(days).toEqual(['2026-10-06', '2026-10-13', '2026-10-20', '2026-11-03', '2026-11-10']);
    await page.getByText('Left out: Tuesday 27 October, closed (half-term)').waitFor();
    await page.getByRole('button', { name: 'Strike out session 2' }).click();
    await expect.poll(days).toEqual(['2026-10-06', '2026-10-20', '2026-11-03', '2026-11-10', '2026-11-17']);
    await page.getByRole('button', { name: 'Use Tuesday 27 October' }).click();
    await expect.poll(days).toEqual(['2026-10-06', '2026-10-20', '2026-10-27', '2026-11-03', '2026-11-10']);
    await page.getByText('The studio is closed that day (half-term).').waitFor();
    expect(await page.getByLabel('It takes place all the same').isChecked()).toBe(true);

    const taken = { startsAt: '2026-11-03T19:30:00Z', endsAt: '2026-11-03T20:00:00Z', roomId: small.id };
    const terms = { ...fixture().body, planId: plan.id, title: 'Raku talk', minimum: 0, sessions: [taken] };
    await made(owner, '/api/courses', terms);
    await page.getByLabel('Room').selectOption(small.id);
    const inTheWay = page.locator('.dates > li', { hasText: 'Wheel corner has 8 benches, of which 8 are taken' });
    await inTheWay.waitFor();
    expect(await inTheWay.getByLabel('Session 4, day').inputValue()).toBe('2026-11-03');
    await page.getByLabel('Session 4, day').fill('2026-11-05');
    await inTheWay.waitFor({ state: 'detached' });
    expect(await faultsOf(page)).toEqual([]);
    await page.getByLabel('A place costs').fill('20');
    await page.getByLabel('Tax rate').selectOption({ index: 1 });
    await send(page);
    await page.locator('.done').filter({ hasText: 'in the calendar 5 times, from 6 October to 10 November' }).waitFor();
    const courses = await db.course.findMany({
      where: { planId: plan.id, title: plan.name },
      include: { sessions: true },
    });
    expect(courses.flatMap(({ sessions }) => sessions.map(({ startsAt }) => startsAt.toISOString())).sort()).toEqual([
      ...['2026-10-06T18:00:00.000Z', '2026-10-20T18:00:00.000Z', '2026-10-27T19:00:00.000Z'],
      ...['2026-11-05T19:00:00.000Z', '2026-11-10T19:00:00.000Z'], // at 19:00 in winter as in summer
    ]);
    await page.context().close();
  });
});
