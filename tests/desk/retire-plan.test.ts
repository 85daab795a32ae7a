import { expect, test } from 'vitest';
import { faultsOf } from './browser.js';
import { planPages } from './plan-pages.js';

const { at, newPlan, read } = await planPages();

test('a plan is retired, listed apart, and brought back', async () => {
  const plan = await newPlan({ name: 'Winter lanterns' });
  const page = await at(`/courses/plans/${plan.id}`);
  await page.getByRole('button', { name: 'Retire this plan' }).click();
  await page.getByText('it is not offered for new courses.').waitFor();
  expect(await page.getByRole('button', { name: 'Put it in the calendar' }).count()).toBe(0);
  expect(await faultsOf(page)).toEqual([]);
  await page.goto(new URL('/courses/plans', page.url()).href);
  await page.getByText('One retired plan').click();
  await page.locator('details').getByRole('link', { name: 'Winter lanterns' }).click();
  await page.getByRole('button', { name: 'Bring this plan back' }).click();
  await page.getByRole('button', { name: 'Put it in the calendar' }).waitFor();
  expect((await read(plan.id)).retiredOn).toBeNull();
  await page.context().close();
});
