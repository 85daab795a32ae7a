import { expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

const { owner, clock } = await testApp();

test('courses are ahead until their last session has ended, and past from then on', async () => {
  const home = await coursesFixture(owner);
  await home.addCourse({ title: 'Lidded jars' });
  const titles = async (is: string) =>
    (await owner.get(`/api/courses?is=${is}`)).json().items.map(({ title }: { title: string }) => title);
  expect([await titles('ahead'), await titles('past')]).toEqual([['Lidded jars'], []]);
  await clock.set('2026-05-05T19:59:00Z'); // between its sessions, and a minute before the last one ends
  expect([await titles('ahead'), await titles('past')]).toEqual([['Lidded jars'], []]);
  await clock.set('2026-05-05T20:00:00Z');
  expect([await titles('ahead'), await titles('past')]).toEqual([[], ['Lidded jars']]);
});
