import { beforeAll, expect, test } from 'vitest';
import type { MixCosts } from '../../../src/studio/mixes/contract.js';
import { testApp } from '../../support/app.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { lotFixture } from '../../support/fixtures/materials.js';
import { batchFixture, mixFixture, powderFixture } from '../../support/fixtures/mixes.js';
import { made } from '../../support/fixtures.js';

const { owner } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
  await lotFixture(owner, home.clay.id);
  await made(owner, '/api/tariffs', {
    ...{ name: 'Day', validFrom: '2026-01-01', bands: [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }] },
  });
});

test('a plan that uses a mix has a price before the first batch, by its parts; by its lot from then on', async () => {
  const [flint, feldspar] = [await powderFixture(owner), await powderFixture(owner)];
  const inner = await mixFixture(owner, [flint.id, feldspar.id]);
  const outer = await mixFixture(owner, [inner.product.id, feldspar.id], {
    parts: [
      { materialId: inner.product.id, share: '25' },
      { materialId: feldspar.id, share: '75' },
    ],
  });
  const body = planBody(home);
  const pieces = body.pieces.map((piece: object) => ({
    ...piece,
    glaze: { materialId: outer.product.id, gramsPerDm2: '4.5' },
  }));
  const plan = await made(owner, '/api/course-plans', { ...body, name: 'Mixed', pieces });
  const course = await home.addCourse({ planId: plan.id });
  const priced = async () => {
    const answer = await owner.get(`/api/courses/${course.id}/price`);
    if (answer.statusCode !== 200) return answer.json().detail as string;
    const { inputs } = answer.json();
    return inputs.lines.find(({ key }: { key: string }) => key === `glaze-${outer.product.id}`);
  };
  expect(await priced()).toContain(`Nothing says yet what these cost: ${outer.product.name}`);
  await lotFixture(owner, flint.id, { quantity: 1000, costMinor: 800 });
  expect(await priced()).toContain('Nothing says yet what');
  await lotFixture(owner, feldspar.id, { quantity: 1000, costMinor: 400 });
  // 1000 g of it: 250 g of the inner one at (800 + 400) / 2, and 750 g at 400
  expect(await priced()).toMatchObject({ rateMinor: '450', source: { kind: 'lot' } });
  expect((await priced()).source.detail).toContain('Mixed here');
  const { parts } = (await owner.get(`/api/mixes/${outer.id}/costs`)).json() as MixCosts;
  expect(parts.map(({ rateMinor }) => rateMinor)).toEqual(['0.6', '0.4']);

  await lotFixture(owner, flint.id, { quantity: 1000, costMinor: 1600 });
  await lotFixture(owner, feldspar.id, { quantity: 1000, costMinor: 400 });
  await batchFixture(owner, inner.id);
  await batchFixture(owner, outer.id); // the first lot of flint is drawn first: 8, 4, so that it costs what was reckoned
  expect(await priced()).toMatchObject({ rateMinor: '450' });
  expect((await priced()).source.detail).toMatch(/^Lot of /);
});
