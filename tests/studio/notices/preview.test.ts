import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { PreviewedLetter } from '../../../src/studio/notices/preview.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture, workshopFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture } from '../../support/fixtures/firings.js';
import { givingUp } from '../../support/fixtures/given-up.js';
import { tariffFixture } from '../../support/fixtures/kilns.js';
import { MUG, noted, piecesFixture } from '../../support/fixtures/ware.js';
import { personFixture } from '../../support/fixtures.js';

const studio = await testApp();
const { db, owner, tutor, clock } = studio;
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
  await tariffFixture(owner);
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));
const { addCourse, confirmed, cancel } = givingUp(studio, () => home);

type Deed = { url: string; body: object };

async function unloaded(): Promise<string> {
  const maker = await personFixture(owner, 'Tom Ashby');
  const shop = await workshopFixture(owner);
  const firing = await firingFixture(owner, { kilnId: shop.kiln.id, scheduleId: shop.stoneware.id });
  const ware = await piecesFixture(owner, maker.id, { stage: 'glazed', ware: [{ ...MUG, count: 2 }] });
  await firedFixture(owner, firing.id, ware);
  await noted(owner, ware, 'ready');
  return firing.id;
}

/** Each makes what it needs, and says which request is the deed. */
const DEEDS: Record<string, () => Promise<Deed>> = {
  'books a place': async () => {
    const { id } = await personFixture(owner, 'Ines Duval');
    return {
      url: `/api/courses/${(await home.addCourse()).id}/bookings`,
      body: { payerId: id, attendeeIds: [id] },
    };
  },
  'cancels a booking': async () => {
    const booking = await confirmed(await addCourse(8));
    return { url: `/api/bookings/${booking.id}/cancellation`, body: { reason: 'Moved away', method: 'card' } };
  },
  'refunds what a filled place made due': async () => {
    const courseId = await addCourse(1);
    const booking = await confirmed(courseId);
    await clock.set('2026-04-10T12:00:00Z');
    await cancel(booking);
    await confirmed(courseId);
    return { url: `/api/bookings/${booking.id}/further-refund`, body: { method: 'transfer' } };
  },
  'takes a payment back': async () => {
    const payment = (await payFor(owner, await bookingFixture(owner, (await home.addCourse()).id), 3000)).json();
    return { url: `/api/payments/${payment.id}/reversal`, body: { reason: 'Entered twice' } };
  },
  'reminds of what is due': async () => {
    const { payerId } = await confirmed((await home.addCourse()).id);
    await clock.set('2026-04-12T09:00:00Z');
    return { url: `/api/people/${payerId}/reminders`, body: {} };
  },
  'works a firing out and bills it': async () => ({
    url: `/api/firings/${await unloaded()}/settlement`,
    body: { bill: true },
  }),
  'tells makers that ware is ready': async () => {
    await unloaded();
    return { url: '/api/collection-notices', body: {} };
  },
};

const TABLES = `SELECT format('%I', table_name) AS name FROM information_schema.tables
  WHERE table_schema = 'public' AND table_type = 'BASE TABLE' ORDER BY 1`;

/** Every row of every table, as one hash a table. Sign-ins note when they were last used. */
async function everythingKept(): Promise<Record<string, string>> {
  const tables = await db.$queryRawUnsafe<{ name: string }[]>(TABLES);
  const hashes: Record<string, string> = {};
  for (const { name } of tables.filter((table) => table.name !== 'sign_in')) {
    const rows = `SELECT count(*) || ' ' || coalesce(md5(string_agg(t::text, ',' ORDER BY t::text)), '') AS hash FROM ${name} t`;
    hashes[name] = (await db.$queryRawUnsafe<{ hash: string }[]>(rows))[0]?.hash ?? '';
  }
  return hashes;
}

/** New ids differ each time; all else must not. */
const withoutNewIds = (answer: unknown, known: string) =>
  JSON.parse(JSON.stringify(answer), (_, value) =>
    typeof value === 'string' && /^[0-9a-f-]{36}$/.test(value) && !known.includes(value) ? 'new' : value,
  );

async function lettersSince(before: ReadonlySet<string>): Promise<object[]> {
  const { items } = (await owner.get('/api/notices?limit=200')).json();
  const letters: object[] = [];
  for (const { id } of items.filter((letter: { id: string }) => !before.has(letter.id))) {
    const { personId, personName, email, occasion, fileName, subject, text } = (
      await owner.get(`/api/notices/${id}`)
    ).json();
    letters.push({ personId, personName, email, occasion, fileName, subject, text });
  }
  return letters;
}

const noticeIds = async () => new Set((await db.notice.findMany({ select: { id: true } })).map(({ id }) => id));

describe('what is seen before it is done', () => {
  test.each(Object.entries(DEEDS))('%s: it is what then happens, and nothing is kept of it', async (_, prepare) => {
    const { url, body } = await prepare();
    const before = await everythingKept();
    const seen = await owner.post(`${url}/preview`, body);
    expect(seen.statusCode, seen.body).toBe(200);
    expect(await everythingKept()).toEqual(before);

    const known = JSON.stringify([
      await db.person.findMany({ select: { id: true } }),
      await db.piece.findMany({ select: { id: true } }),
      await db.charge.findMany({ select: { id: true } }),
    ]);
    const earlier = await noticeIds();
    const done = await owner.post(url, body);
    expect([200, 201]).toContain(done.statusCode);
    const { outcome, letters } = seen.json<{ outcome: unknown; letters: (typeof PreviewedLetter)['_output'][] }>();
    expect(withoutNewIds(outcome, known)).toEqual(withoutNewIds(done.json(), known));
    expect(letters).toEqual(await lettersSince(earlier));
    expect(await everythingKept()).not.toEqual(before);
  });

  test('only by whoever may do it, and refused as the deed itself is', async () => {
    expect((await tutor.post('/api/collection-notices/preview')).statusCode).toBe(403);
    const { url, body } = await (DEEDS['cancels a booking'] as () => Promise<Deed>)();
    await owner.post(url, body);
    expect((await owner.post(`${url}/preview`, body)).json()).toMatchObject({ type: '/problems/already-cancelled' });
  });
});
