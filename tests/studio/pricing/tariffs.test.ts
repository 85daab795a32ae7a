import { beforeAll, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { owner } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
const band = (fromHour: number, toHour: number, perKwhMinor: string) => ({
  ...{ fromMinute: fromHour * 60, toMinute: toHour * 60, perKwhMinor },
});

beforeAll(async () => {
  home = await coursesFixture(owner);
  for (const { id } of [home.clay, home.glaze])
    await made(owner, `/api/materials/${id}/lots`, {
      ...{ supplier: 'Ostlemere Clays', receivedOn: '2026-03-02', quantity: 100_000, costMinor: 9000 },
    });
  await made(owner, '/api/tariffs', { name: 'Flat', validFrom: '2026-01-01', bands: [band(0, 24, '30')] });
  await made(owner, '/api/tariffs', {
    ...{ name: 'Day and night', validFrom: '2026-05-01' },
    bands: [band(0, 9, '10'), band(9, 18, '30'), band(18, 24, '10')],
  });
});

const firing = async (id: string) => {
  const { inputs } = (await owner.get(`/api/courses/${id}/price`)).json();
  return inputs.lines.find(({ key }: { key: string }) => key === 'firing-1');
};

test('a typical firing is priced by the hours through which it runs from nine on, by the tariff of the last session’s day', async () => {
  // bisque: 598 minutes, 9:00 to 18:58, 44.865 kWh; until 18:00 it draws 540 / 598 of them:
  // 40.5135 kWh at 30 and 4.3515 at 10 are 1258.92
  const found = await firing((await home.addCourse()).id); // until 5 May
  expect(found).toMatchObject({ electricityMinor: '1259', rateMinor: '1559' });
  expect(found.source.detail).toContain('£12.59 by the tariff "Day and night" from 9:00');
});

test('a course that ends before a tariff holds is priced by the one before it', async () => {
  const [first] = home.body.sessions;
  const sessions = ['2026-04-07', '2026-04-28'].map((day) => ({
    ...{ startsAt: `${day}T10:00:00+01:00`, endsAt: `${day}T12:00:00+01:00`, roomId: first?.roomId },
  }));
  const found = await firing((await home.addCourse({ sessions })).id);
  expect(found).toMatchObject({ electricityMinor: '1346', rateMinor: '1646' }); // 44.865 kWh at 30
});
