import { randomUUID } from 'node:crypto';
import { beforeAll, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

// What is set up once is corrected, and removed while nothing refers to it.

const { db, owner, tutor } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});

const WEAR = { bisque: 100, glaze: 200, lustre: 100 };
const KILN = {
  shape: 'rectangular',
  widthMm: 400,
  depthMm: 400,
  heightMm: 500,
  ratedKw: '6.5',
  fillPercent: '55',
  coolingHours: 20,
  wearMinor: WEAR,
};
const NOUNS: [string, object, object][] = [
  [
    'kilns',
    { name: 'Spare kiln', ...KILN },
    {
      name: 'Small kiln',
      ...KILN,
      heightMm: 450,
      wearMinor: { bisque: 90, glaze: { costMinor: 40_000, firings: 160 }, lustre: 0 },
    },
  ],
  [
    'schedules',
    { name: 'Slow', kind: 'bisque', segments: [{ ratePerHourC: 100, targetC: 1000, holdMinutes: 10 }] },
    { name: 'Slower', kind: 'bisque', cone: '06', segments: [{ ratePerHourC: 60, targetC: 1000, holdMinutes: 0 }] },
  ],
  [
    'tariffs',
    { name: 'Day', validFrom: '2025-01-01', bands: [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '28' }] },
    { name: 'Day rate', validFrom: '2025-02-01', bands: [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '27.5' }] },
  ],
  ['rooms', { name: 'Back room', benches: 4 }, { name: 'Yard', benches: 3 }],
  ['tax-rates', { name: 'Reduced', kind: 'standard', percent: '5' }, { name: 'Lower', kind: 'standard', percent: '6' }],
  [
    'refund-policies',
    { name: 'Strict', refilledFeeMinor: 0, tiers: [{ daysBefore: 30, refundPercent: '50' }] },
    { name: 'Kind', refilledFeeMinor: 100, tiers: [{ daysBefore: 7, refundPercent: '100' }] },
  ],
  ['boards', { name: 'Top shelf', kind: 'shelf' }, { name: 'Low shelf', kind: 'wareBoard' }],
];

test.each(NOUNS)('%s: shown, corrected by whoever has read it, and removed', async (noun, body, other) => {
  const { id } = await made<{ id: string }>(owner, `/api/${noun}`, body);
  const url = `/api/${noun}/${id}`;
  expect((await owner.get(url)).json()).toMatchObject({ id, ...body });
  const unseen = await owner.put(url, other, randomUUID(), {});
  expect(unseen.statusCode).toBe(428);
  const changed = await owner.put(url, other);
  expect(changed.statusCode, changed.body).toBe(200);
  expect((await owner.get(url)).json()).toEqual(changed.json());
  const { wearMinor: _, ...plain } = other as { wearMinor?: unknown };
  expect(changed.json()).toMatchObject({ id, ...plain });
  const listed = (await owner.get(`/api/${noun}`)).json().items.find((item: { id: string }) => item.id === id);
  expect(listed).toMatchObject({ name: (other as { name: string }).name });
  if (noun !== 'boards') expect((await tutor.put(url, other)).statusCode).toBe(403);
  expect((await owner.post(`${url}/removal`)).json()).toEqual({ id });
  expect((await owner.get(url)).statusCode).toBe(404);
  expect((await owner.post(`${url}/removal`)).statusCode).toBe(404);
});

test('what a kiln wears is worked out from what is replaced', async () => {
  const { id } = await made<{ id: string }>(owner, '/api/kilns', { name: 'Worn kiln', ...KILN });
  const wearMinor = { ...WEAR, glaze: { costMinor: 40_000, firings: 160 } };
  expect((await owner.put(`/api/kilns/${id}`, { name: 'Worn kiln', ...KILN, wearMinor })).json().wearMinor).toEqual({
    ...WEAR,
    glaze: 250,
  });
});

test.each([
  ['kilns', () => home.kiln.id, /is in firings, course plans or test tiles/],
  ['schedules', () => home.bisque.id, /is in firings, course plans or test tiles/],
  ['rooms', () => roomInUse(), /Courses run or ran in/],
  ['tax-rates', () => home.standard.id, /is the VAT of/],
  ['refund-policies', () => home.refundPolicy.id, /Courses go by/],
])('%s in use stay', async (noun, id, sentence) => {
  await home.addCourse();
  const url = `/api/${noun}/${await id()}`;
  const answer = await owner.post(`${url}/removal`);
  expect(answer.json()).toMatchObject({ type: '/problems/still-needed', detail: expect.stringMatching(sentence) });
  expect((await owner.get(url)).statusCode).toBe(200);
});

const roomInUse = async () => (await db.session.findFirstOrThrow()).roomId;

test('a room keeps the benches that its sessions use', async () => {
  const course = await home.addCourse();
  const url = `/api/rooms/${course.sessions[0]?.roomId}`;
  const { name } = (await owner.get(url)).json();
  expect((await owner.put(url, { name, benches: 7 })).json()).toMatchObject({
    ...{ type: '/problems/still-needed', detail: expect.stringContaining('use 8 places at once') },
  });
  expect((await owner.put(url, { name, benches: 8 })).statusCode).toBe(200);
});

test('a refund policy keeps its terms once somebody booked under it; its name may change', async () => {
  await bookingFixture(owner, (await home.addCourse()).id);
  const url = `/api/refund-policies/${home.refundPolicy.id}`;
  const { id: _, ...policy } = (await owner.get(url)).json();
  expect((await owner.put(url, { ...policy, refilledFeeMinor: 999 })).json()).toMatchObject({
    type: '/problems/still-needed',
  });
  expect((await owner.put(url, { ...policy, name: 'Courses since 2026' })).statusCode).toBe(200);
});

test('a schedule that plans fire by keeps its kind and its top temperature, and may go slower', async () => {
  const url = `/api/schedules/${home.bisque.id}`;
  const { name, kind, cone, segments } = (await owner.get(url)).json();
  const body = { name, kind, cone, segments };
  const last = segments.at(-1);
  const hotter = [...segments.slice(0, -1), { ...last, targetC: last.targetC + 10 }];
  for (const changes of [{ kind: 'glaze' }, { segments: hotter }])
    expect((await owner.put(url, { ...body, ...changes })).json()).toMatchObject({ type: '/problems/still-needed' });
  const slower = [...segments.slice(0, -1), { ...last, holdMinutes: last.holdMinutes + 5 }];
  expect((await owner.put(url, { ...body, segments: slower })).statusCode).toBe(200);
  await db.firing.create({
    data: {
      ...{
        id: randomUUID(),
        number: 1,
        kilnId: home.kiln.id,
        scheduleId: home.bisque.id,
        state: 'firing',
        labourMinutes: 10,
      },
      ...{ plannedFrom: new Date('2026-03-10T08:00:00Z'), plannedTo: new Date('2026-03-11T08:00:00Z') },
      startedAt: new Date('2026-03-10T08:00:00Z'),
    },
  });
  expect((await owner.put(url, body)).json()).toMatchObject({ detail: expect.stringContaining('record') });
  expect((await owner.put(url, { ...body, segments: slower, name: 'Renamed bisque' })).statusCode).toBe(200);
});

test('two of one name are refused, and an own name is kept', async () => {
  const one = await made<{ id: string }>(owner, '/api/rooms', { name: 'One of two', benches: 2 });
  await made(owner, '/api/rooms', { name: 'Two of two', benches: 2 });
  expect((await owner.put(`/api/rooms/${one.id}`, { name: 'Two of two', benches: 2 })).json()).toMatchObject({
    type: '/problems/already-there',
  });
  expect((await owner.put(`/api/rooms/${one.id}`, { name: 'One of two', benches: 5 })).statusCode).toBe(200);
});
