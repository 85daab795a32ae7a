import { expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

const { owner, clock } = await testApp();
const home = await coursesFixture(owner);

test('courses are ahead until their last session has ended, and past from then on', async () => {
  await home.addCourse({ title: 'Lidded jars' });
  const titles = async (is: string) =>
    (await owner.get(`/api/courses?is=${is}`)).json().items.map(({ title }: { title: string }) => title);
  expect([await titles('ahead'), await titles('past')]).toEqual([['Lidded jars'], []]);
  await clock.set('2026-05-05T19:59:00Z'); // between its sessions, and a minute before the last one ends
  expect([await titles('ahead'), await titles('past')]).toEqual([['Lidded jars'], []]);
  await clock.set('2026-05-05T20:00:00Z');
  expect([await titles('ahead'), await titles('past')]).toEqual([[], ['Lidded jars']]);
});

test('courses are listed by their next session to come; one that was cancelled does not count', async () => {
  await clock.set('2026-03-10T09:00:00Z');
  const on = (first: string, second: string) => ({
    sessions: [first, second].map((day) => ({
      ...{ startsAt: `${day}T10:00:00Z`, endsAt: `${day}T12:00:00Z`, roomId: home.room.id, benches: 1 },
    })),
  });
  const early = await home.addCourse({ title: 'Early', ...on('2026-06-01', '2026-06-29') });
  await home.addCourse({ title: 'Middle', ...on('2026-06-10', '2026-06-24') });
  const late = await home.addCourse({ title: 'Late', ...on('2026-06-15', '2026-07-06') });
  const titles = async (order: string) =>
    (await owner.get(`/api/courses?is=ahead&order=${order}&from=2026-06-01&to=2026-07-31`))
      .json()
      .items.map(({ title }: { title: string }) => title);
  expect(await titles('firstDay')).toEqual(['Early', 'Middle', 'Late']);
  await owner.post(`/api/sessions/${early.sessions[0]?.id}/cancellation`, { reason: 'Mara is ill.' });
  expect(await titles('firstDay')).toEqual(['Middle', 'Late', 'Early']);
  expect(await titles('nextDay')).toEqual(['Middle', 'Late', 'Early']);
  await clock.set('2026-06-11T09:00:00Z');
  expect(await titles('nextDay')).toEqual(['Late', 'Middle', 'Early']);
  expect(await titles('firstDay')).toEqual(['Middle', 'Late', 'Early']);
  expect(await titles('nextDayLast')).toEqual(['Early', 'Middle', 'Late']);
  const { nextStartsAt } = (await owner.get(`/api/courses/${late.id}/dates`)).json();
  expect(nextStartsAt).toBe('2026-06-15T10:00:00.000Z');
});
