import { expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { tariffFixture } from '../../support/fixtures/kilns.js';
import { lotFixture } from '../../support/fixtures/materials.js';
import { saleFixture } from '../../support/fixtures/sales.js';
import { personFixture } from '../../support/fixtures.js';

const { owner, clock } = await testApp();

test('what was sold is nothing that a course used: its account and its needs stay, and only the shelf holds less', async () => {
  const home = await coursesFixture(owner);
  const course = await home.addCourse();
  await bookingFixture(owner, course.id, 3);
  await lotFixture(owner, home.clay.id, { quantity: 20_000, costMinor: 3000 });
  await lotFixture(owner, home.glaze.id);
  await tariffFixture(owner);
  await owner.post(`/api/courses/${course.id}/draws`, { materialId: home.clay.id, quantity: 700 });
  await clock.set('2026-04-15T09:00:00Z'); // between its two evenings
  const told = async () => {
    const outlook = (await owner.get('/api/outlook')).json();
    const item = outlook.items.find(({ materialId }: { materialId: string }) => materialId === home.clay.id);
    const { items: drawn } = (await owner.get(`/api/courses/${course.id}/draws`)).json();
    const real = (await owner.get(`/api/courses/${course.id}/afterwards`)).json();
    return { needs: item.needs, onHand: item.onHand, drawn, real };
  };
  const before = await told();
  expect(before).toMatchObject({ onHand: 19_300, drawn: [{ quantity: 700 }], real: { courseId: course.id } });
  const ines = await personFixture(owner);
  await saleFixture(owner, ines.id, home.clay.id, { priceMinor: 420, taxRateId: home.standard.id });
  expect(await told()).toEqual({ ...before, onHand: 17_300 });
});
