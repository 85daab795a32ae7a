import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll } from 'vitest';
import type { Plan } from '../../src/studio/courses/plan-contract.js';
import { testApp } from '../support/app.js';
import { coursesFixture, planBody } from '../support/fixtures/courses.js';
import { lotFixture } from '../support/fixtures/materials.js';
import { made } from '../support/fixtures.js';
import { browse, sessionOf } from './browser.js';

/** A studio with a plan that can be priced and has a course in April, and its owner before the pages of plans. */
export async function planPages() {
  const { app, db, owner } = await testApp();
  const { open } = await browse(app);
  let session: BrowserContextOptions['storageState'];
  let studio: Awaited<ReturnType<typeof coursesFixture>>;

  beforeAll(async () => {
    studio = await coursesFixture(owner);
    await made(owner, '/api/tariffs', {
      ...{ name: 'Night', validFrom: '2026-01-01' },
      bands: [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '25' }],
    });
    await lotFixture(owner, studio.clay.id, { quantity: 10_000, costMinor: 1000 });
    await lotFixture(owner, studio.glaze.id, { quantity: 5000, costMinor: 2000 });
    await studio.addCourse();
    session = await sessionOf(open);
  });

  return {
    ...{ db, owner },
    fixture: () => studio,
    at: async (path: string, options: BrowserContextOptions = {}): Promise<Page> => {
      const page = await open(path, { ...options, storageState: session });
      await page.locator('main[aria-busy=false] .answer').waitFor();
      return page;
    },
    newPlan: (changes: object = {}) => made<Plan>(owner, '/api/course-plans', { ...planBody(studio), ...changes }),
    read: async (id: string): Promise<Plan> => (await owner.get(`/api/course-plans/${id}`)).json(),
  };
}

/** What stands in the first place that fits, without the spaces that keep a figure and its unit together. */
export const plain = async (page: Page, what: string): Promise<string> =>
  ((await page.locator(what).first().textContent()) ?? '').replaceAll('\u00a0', ' ');
