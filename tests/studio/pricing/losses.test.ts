import { beforeAll, expect, test } from 'vitest';
import type { Course } from '../../../src/studio/courses/contract.js';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture } from '../../support/fixtures/firings.js';
import { MUG, noted, piecesFixture } from '../../support/fixtures/ware.js';
import { made, personFixture } from '../../support/fixtures.js';

const { owner } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
let course: Course;
const losses = async () => (await owner.get('/api/losses')).json();

beforeAll(async () => {
  home = await coursesFixture(owner);
  course = await home.addCourse();
});

test('pieces lost count by how far they had got, and the price follows', async () => {
  expect(await losses()).toEqual({
    lost: { making: 0, bisque: 0, glaze: 0, lustre: 0 },
    reach: { making: '100', bisque: '50', glaze: '25', lustre: '0' },
  });
  const { id } = await personFixture(owner);
  const mugs = (count: number, more: object = {}) =>
    piecesFixture(owner, id, {
      ...{ stage: 'dry', ware: [{ ...MUG, count }], courseId: course.id, firingPaidBy: 'course', ...more },
    });
  await noted(owner, await mugs(2), 'broken'); // cracked while they dried
  const fired = await mugs(8);
  const bisque = await firingFixture(owner, { kilnId: home.kiln.id, scheduleId: home.bisque.id });
  await firedFixture(owner, bisque.id, fired, { [fired[0]?.id ?? '']: 'broken' });
  await noted(owner, fired.slice(1, 3), 'broken'); // dropped between the firings: a bisque was spent on them
  await noted(owner, fired.slice(3), 'glazed');
  await noted(owner, fired.slice(3, 4), 'broken');
  await noted(owner, await mugs(5, { courseId: null, firingPaidBy: 'maker' }), 'broken'); // no course's

  const { lost, reach } = await losses();
  expect(lost).toEqual({ making: 2, bisque: 3, glaze: 1, lustre: 0 });
  // 12, 8 and 6 of 26
  expect(reach).toEqual({ making: '100', bisque: '53.846154', glaze: '23.076923', lustre: '0' });

  for (const materialId of [home.clay.id, home.glaze.id])
    await made(owner, `/api/materials/${materialId}/lots`, {
      ...{ supplier: 'Fernley Clays', receivedOn: '2026-03-02', quantity: 10_000, costMinor: 9000 },
    });
  await made(owner, '/api/tariffs', {
    ...{ name: 'Day', validFrom: '2026-01-01', bands: [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }] },
  });
  const { inputs } = (await owner.get(`/api/courses/${course.id}/price`)).json();
  const line = (key: string) => inputs.lines.find((one: { key: string }) => one.key.startsWith(key));
  expect(line('glaze-')).toMatchObject({ reachPercent: '23.076923' });
  expect(line('firing-1').source.detail).toContain('by 6 lost so far, and an assumption that counts as 20');
});
