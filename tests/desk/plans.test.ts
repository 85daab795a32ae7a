import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { expectFits, faultsOf, PHONE } from './browser.js';
import { plain, planPages } from './plan-pages.js';

const { db, owner, fixture, at, newPlan, read } = await planPages();

async function correct(id: string): Promise<Page> {
  const page = await at(`/courses/plans/${id}`);
  await page.getByRole('button', { name: 'Correct this plan' }).click();
  return page;
}

describe('the plans', () => {
  test('stand each in a line, with what each makes, a fair price and the way to the next course', async () => {
    const page = await at('/courses/price');
    await page.getByRole('link', { name: 'Plans', exact: true }).click();
    await page.locator('.plans li').first().waitFor();
    const { name } = fixture().plan;
    const line = page.locator('.plans > li').filter({ hasText: name });
    expect((await line.locator('p').first().textContent())?.replaceAll('\u00a0', ' ')).toBe(
      'Two sessions, 4 h 30 min; 4 to 8 places; each makes two mugs.',
    );
    expect(await line.getByRole('list', { name }).textContent()).toBe('Two mugsmedium');
    const { json } = await owner.get(`/api/course-plans/${fixture().plan.id}/price`);
    const pounds = (json().result.fairPriceMinor / 100).toFixed(2).replace(/\.00$/, '');
    await line.getByText(`£${pounds}`).waitFor();
    expect(await line.getByRole('link', { name: /^The price of “Two mugs” from 14 April/ }).count()).toBe(1);
    await line.getByRole('link', { name }).click();
    expect(await page.getByRole('heading', { level: 1, name: 'Course plan', exact: true }).textContent()).toBe(
      'Course plan',
    );
    expect(await page.locator('.words [aria-current]').textContent()).toBe('Courses');
    await page.context().close();
  });

  test('are read like a recipe', async () => {
    const page = await at(`/courses/plans/${fixture().plan.id}`);
    expect(await page.getByRole('img').getAttribute('aria-label')).toMatch(/making 2.h 30.min, glazing 2.h$/);
    const card = await plain(page, '.plan-card');
    expect(card).toContain('Glazing, 2 h; 20 min to prepare and 30 min to clear up.');
    expect(card).toMatch(
      /Two mugs, medium \(120 × 88 × 95 mm, an assumption\): 450 g of Grey body \d+ each, with Moss/,
    );
    expect(card).toMatch(/It dries 5 days, then goes through Bisque \d+ in Kiln \d+ and Stoneware \d+ in Kiln \d+\./);
    expect(card).toContain('Second tutorabove 6 students, for £90.00');
    const [wide, narrow] = await page
      .locator('.timeline rect:not(.around)')
      .evaluateAll((all) => all.map((one) => one.getBoundingClientRect().width));
    expect((wide ?? 0) / (narrow ?? 1)).toBeCloseTo(150 / 120, 1);
    await page.context().close();
  });
});

describe('a plan is written', () => {
  test('from nothing, by keyboard alone, and says what follows while it is', async () => {
    const page = await at('/courses/plans/new');
    await page.getByLabel('What do you call it?').fill('Three evenings');
    await page.getByRole('button', { name: 'Add a session' }).press('Enter');
    await page.getByLabel('Session 3 is for').selectOption('finishing');
    const earlier = page.getByRole('button', { name: 'Move session 3 up' });
    await earlier.press('Enter');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe('Move session 2 up');
    expect(await page.getByLabel('Session 2 is for').inputValue()).toBe('finishing');
    await page.getByLabel('How many each').fill('3');
    expect(await plain(page, '.follows')).toMatch(/Session 3 \(glazing\) begins .* days after session 2 or later/);
    expect(await plain(page, '.follows')).toContain('It takes you 14 h 30 min');
    await page.locator('summary', { hasText: 'Concessions' }).click();
    await page.getByRole('button', { name: 'Add a price below' }).click();
    await page.getByLabel('For whom').fill('Member');
    await page.getByRole('button', { name: 'Save plan' }).click();
    await page.getByRole('button', { name: 'Correct this plan' }).waitFor();
    const plan = await db.coursePlan.findFirstOrThrow({ where: { name: 'Three evenings' } });
    expect(new URL(page.url()).pathname).toBe(`/courses/plans/${plan.id}`);
    expect(await read(plan.id)).toMatchObject({
      sessions: [{ purpose: 'making' }, { purpose: 'finishing' }, { purpose: 'glazing' }],
      pieces: [{ form: 'mug', perStudent: 3, size: { widthMm: 120 } }],
      soldAt: [{ label: 'Member', sharePercent: '10', pricePercent: '90' }],
    });
    await page.context().close();
  });

  test('from another one, which stays as it is', async () => {
    const page = await at(`/courses/plans/${fixture().plan.id}`);
    await page.getByRole('link', { name: 'Begin a new plan from this one' }).click();
    await page.getByLabel('What do you call it?').fill('Two mugs at noon');
    await page.reload(); // as whoever must sign in again would
    await page.getByText('What you had typed is here again').waitFor();
    await page.getByRole('button', { name: 'Remove session 1' }).click();
    await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toBe('Add a session');
    await page.getByRole('button', { name: 'Save plan' }).click();
    await page.getByRole('button', { name: 'Correct this plan' }).waitFor();
    const { id } = await db.coursePlan.findFirstOrThrow({ where: { name: 'Two mugs at noon' } });
    const { id: _, ...copy } = await read(id);
    const { id: __, ...model } = await read(fixture().plan.id);
    expect(copy).toEqual({ ...model, name: 'Two mugs at noon', sessions: model.sessions.slice(1) });
    await page.context().close();
  });
});

describe('a plan is corrected', () => {
  test('and reads so afterwards', async () => {
    const { id } = await newPlan();
    const page = await correct(id);
    await page.getByLabel('Fired size').selectOption('measured');
    await page.getByLabel('Height, mm').fill('110');
    await page.getByLabel('Places', { exact: true }).fill('10');
    await page.getByRole('button', { name: 'Save plan' }).click();
    await page.locator('.done').filter({ hasText: 'The plan is kept.' }).waitFor();
    expect(await page.locator('.done').evaluate((done) => done === document.activeElement)).toBe(true);
    expect(await plain(page, '.answer')).toContain('4 to 10 places');
    const size = { widthMm: 120, depthMm: 88, heightMm: 110 };
    expect(await read(id)).toMatchObject({ places: 10, pieces: [{ size }] });
    await page.context().close();
  });

  test('not where something can’t be read, or the studio refuses it: that stands beside its field', async () => {
    const { id } = await newPlan();
    const page = await correct(id);
    await page.getByLabel('Minutes', { exact: true }).nth(1).fill('two hours');
    await page.getByRole('button', { name: 'Save plan' }).click();
    expect(await page.getByRole('alert').textContent()).toContain('Session 2, minutes: Write a whole number');
    await page.getByRole('link', { name: 'Session 2, minutes' }).click();
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('at-sessions-1-minutes');
    await page.getByLabel('Minutes', { exact: true }).nth(1).fill('5');
    await page.getByLabel('Minimum students').fill('12');
    await page.getByLabel('Advertising').fill('1');
    await page.getByRole('button', { name: 'Save plan' }).click();
    await page.locator('#at-minimum-fault').waitFor();
    const beside = (field: string) => page.locator(`#at-${field}-fault`).textContent();
    expect(await beside('minimum')).toBe('must be at most the places');
    expect(await beside('sessions-1-minutes')).toBe('must be at least 15');
    expect(await page.getByLabel('Minimum students').inputValue()).toBe('12');
    expect(await read(id)).toMatchObject({ minimum: 4, sessions: [{ minutes: 150 }, { minutes: 120 }] });
    expect(await faultsOf(page)).toEqual([]);
    await page.context().close();
  });

  test('not in what its courses stand on', async () => {
    const { id } = await newPlan();
    await fixture().addCourse({ planId: id });
    const page = await correct(id);
    await page.getByRole('button', { name: 'Remove session 2' }).click();
    await page.getByRole('button', { name: 'Save plan' }).click();
    expect(await page.getByRole('alert').textContent()).toContain('“Two mugs”'.replace(/[“”]/g, '"'));
    expect(await page.locator('#at-sessions .fault').textContent()).toContain('Begin a new plan from this one');
    await page.context().close();
  });

  test('with nothing lost where the connection breaks or the page is left', async () => {
    const { id } = await newPlan();
    const page = await correct(id);
    await page.getByLabel('Places', { exact: true }).fill('11');
    await page.route('**/api/course-plans/*', (route) =>
      route.request().method() === 'PUT' ? route.abort() : route.continue(),
    );
    await page.getByRole('button', { name: 'Save plan' }).click();
    expect(await page.getByRole('alert').textContent()).toMatch(/can’t be reached.*What you typed is still here/);
    await page.unroute('**/api/course-plans/*');
    await page.reload();
    await page.getByText('What you had typed is here again').waitFor();
    expect(await page.getByLabel('Places', { exact: true }).inputValue()).toBe('11');
    await page.getByRole('button', { name: 'Save plan' }).click();
    await page.locator('.done').filter({ hasText: 'The plan is kept.' }).waitFor();
    expect(await read(id)).toMatchObject({ places: 11 });
    await page.reload();
    await page.getByRole('button', { name: 'Correct this plan' }).waitFor();
    await page.context().close();
  });

  test('over what somebody else wrote meanwhile only where its owner says so', async () => {
    const { id, litresPerStudent: _, retiredOn: __, ...body } = await newPlan();
    const page = await correct(id);
    await page.getByLabel('Places', { exact: true }).fill('12');
    expect((await owner.put(`/api/course-plans/${id}`, { ...body, places: 9, otherMinutes: 100 })).statusCode).toBe(
      200,
    );
    await page.getByRole('button', { name: 'Save plan' }).click();
    expect(await page.getByRole('alert').textContent()).toContain(
      'places (now 9) and your time outside sessions (now 100)',
    );
    expect(await read(id)).toMatchObject({ places: 9 });
    await page.getByRole('button', { name: 'Put mine in its place' }).click();
    await page.getByRole('button', { name: 'Save plan' }).click();
    await page.locator('.done').filter({ hasText: 'The plan is kept.' }).waitFor();
    expect(await read(id)).toMatchObject({ places: 12, otherMinutes: 240 });
    await page.context().close();
  });
});

describe.each([
  ['on a desk', {}],
  ['on a phone in the dark', { ...PHONE, colorScheme: 'dark' as const }],
])('fits and is without faults %s:', (_, options) => {
  const expectFine = async (page: Page) => {
    if ('viewport' in options) await expectFits(page);
    expect(await faultsOf(page)).toEqual([]);
  };

  test('the plans, and one read', async () => {
    for (const path of ['/courses/plans', `/courses/plans/${fixture().plan.id}`]) {
      const page = await at(path, options);
      await page.locator('.fair b').first().waitFor();
      await expectFine(page);
      await page.context().close();
    }
  });

  test('the form of a plan, all of it open', async () => {
    const page = await at(`/courses/plans/${fixture().plan.id}`, options);
    await page.getByRole('button', { name: 'Correct this plan' }).click();
    for (const called of ['Concessions', 'Firing, payments and VAT'])
      await page.locator('summary', { hasText: called }).click();
    await page.getByRole('button', { name: 'Add a part with another VAT' }).click();
    await page.getByLabel('Fired size').selectOption('measured');
    await expectFine(page);
    await page.context().close();
  });

  test('the form that puts it in the calendar, with a session too soon', async () => {
    const page = await at(`/courses/plans/${fixture().plan.id}`, options);
    await page.getByRole('button', { name: 'Put it in the calendar' }).click();
    await page.getByLabel('First day').fill('2026-09-01');
    await page.getByLabel('Session 2, day').fill('2026-09-02');
    await expectFine(page);
    await page.context().close();
  });
});
