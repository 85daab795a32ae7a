import pg from 'pg';
import { describe, expect, test, vi } from 'vitest';
import { openDatabase } from '../../src/database/client.js';
import { buildApp } from '../../src/server/app.js';
import { tokenHash } from '../../src/studio/staff/secrets.js';
import { signIn } from '../../src/studio/staff/sign-in.js';
import { testApp } from '../support/app.js';
import { cloneDemo } from '../support/demo.js';
import { elsewhere, type Operation, operations } from '../support/operations.js';

const { app, db, url, clock, ownerMember } = await testApp({ clone: cloneDemo });
const gets = (await operations(app)).filter(({ method }) => method === 'GET');
const cookie = `wareboard=${await signIn(db, clock.now(), { email: ownerMember.email, password: 'a long test password' })}`;

const idOf = async (table: string) => {
  const rows = await db.$queryRawUnsafe<{ id: string }[]>(`SELECT id::text FROM ${table} LIMIT 1`);
  if (!rows[0]) throw new Error(`The invented studio has no ${table}.`);
  return rows[0].id;
};
/** Something of each kind that the invented studio has. */
const CALENDAR = 'a'.repeat(43);
await db.calendarFeed.create({
  data: {
    id: ownerMember.id,
    tokenHash: tokenHash(CALENDAR),
    madeById: ownerMember.id,
    createdAt: new Date(0),
    lastReadAt: new Date(),
  },
});
await db.webPage.create({ data: { id: 1, isOn: true, namesTutors: true, takesRequests: true } });

/** One that anyone may ask for a place on. */
const { id: COMING } = await db.course.findFirstOrThrow({
  where: { cancelledAt: null, plan: { kind: 'course' }, sessions: { every: { startsAt: { gt: clock.now() } } } },
});

const KNOWN: Record<string, string> = {
  personId: await idOf('person'),
  noticeId: await idOf('notice'),
  staffMemberId: ownerMember.id,
  materialId: await idOf('material'),
  supplierId: await idOf('supplier'),
  consignmentId: await idOf('consignment'),
  saleId: await idOf('sale'),
  kilnId: await idOf('kiln'),
  scheduleId: await idOf('schedule'),
  tariffId: await idOf('tariff'),
  roomId: await idOf('room'),
  closureId: await idOf('closure'),
  taxRateId: await idOf('tax_rate'),
  refundPolicyId: await idOf('refund_policy'),
  boardId: await idOf('board'),
  mixId: await idOf('mix'),
  batchId: await idOf('mix_batch'),
  tileId: await idOf('test_tile'),
  photoId: await idOf('test_tile'),
  sha256: '0'.repeat(64),
  planId: await idOf('course_plan'),
  courseId: await idOf('course'),
  sessionId: await idOf('session'),
  bookingId: await idOf('booking'),
  firingId: await idOf('firing'),
  voucherId: await idOf('voucher'),
  membershipId: await idOf('membership'),
  membershipKindId: await idOf('membership_kind'),
  documentId: await idOf('document'),
  orderId: await idOf('supply_order'),
  code: (await db.piece.findFirstOrThrow({ where: { id: await idOf('piece') } })).code,
  id: await idOf('piece'),
  file: `${CALENDAR}.ics`,
};

function addressOf({ path, parameters }: Operation): string {
  const address = path.replace(/\{(\w+)\}/g, (_, name) => {
    const known = path.startsWith('/api/public/') ? COMING : KNOWN[name];
    if (!known) throw new Error(`Say in KNOWN what {${name}} of ${path} stands for.`);
    return known;
  });
  const needed = parameters.filter((p) => p.in === 'query' && p.required).map((p) => `${p.name}=2000`);
  return needed.length > 0 ? `${address}?${needed.join('&')}` : address;
}

const ask = (operation: Operation, of = app) =>
  of.inject({ method: 'GET', url: addressOf(operation), headers: { cookie }, remoteAddress: elsewhere() });

type Sent = { client: unknown; text: string };

/** What one request sends to the database, each statement with the connection it goes by. */
async function watch(work: () => Promise<unknown>): Promise<Sent[]> {
  const spy = vi.spyOn(pg.Client.prototype, 'query');
  await work();
  const sent = spy.mock.calls.map(([query], i) => ({
    client: spy.mock.contexts[i],
    text: typeof query === 'string' ? query : (query as unknown as { text: string }).text,
  }));
  spy.mockRestore();
  return sent;
}

const WHO_ASKS = /\b(sign_in|staff_member|api_token)\b/;
const SNAPSHOT = ['BEGIN', 'SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY'];

describe('a GET', () => {
  test.each(gets.map((operation) => [operation.path, operation] as const))(
    'reads %s from one snapshot',
    async (_, operation) => {
      await ask(operation); // a paper is rendered and stored when it is first asked for
      let status = 0;
      const sent = await watch(async () => {
        ({ statusCode: status } = await ask(operation));
      });
      expect([200, 404, 409, 422]).toContain(status);
      const begin = sent.findIndex(({ text }) => text === 'BEGIN');
      const before = begin === -1 ? sent : sent.slice(0, begin);
      expect(before.map(({ text }) => text).filter((text) => !WHO_ASKS.test(text))).toEqual([]); // who asks is looked up first
      if (begin === -1) return;
      const after = sent.slice(begin);
      expect(new Set(after.map(({ client }) => client)).size).toBe(1);
      const texts = after.map(({ text }) => text);
      expect(texts.slice(0, 2)).toEqual(SNAPSHOT);
      expect(['COMMIT', 'ROLLBACK']).toContain(texts.at(-1));
      expect(texts.slice(1, -1).filter((text) => /^(BEGIN|COMMIT|ROLLBACK)/.test(text))).toEqual([]);
    },
  );

  test('finds what it asks for, but for photos and a logo: the invented studio has none', async () => {
    const missed: string[] = [];
    for (const operation of gets) if ((await ask(operation)).statusCode !== 200) missed.push(operation.name);
    expect(missed.sort()).toEqual(['GET /api/studio/logos/{sha256}', 'GET /api/test-tiles/{tileId}/photos/{photoId}']);
  });
});

test('each GET is answered over a single connection: none waits for a second while it holds one', async () => {
  const { db: narrow, close } = await openDatabase(url, { max: 1 });
  const small = await buildApp({ db: narrow, now: clock.now });
  const failed: string[] = []; // one after the other: in a queue of all, a slow machine would give some of them up
  for (const operation of gets) if ((await ask(operation, small)).statusCode >= 500) failed.push(operation.name);
  expect(failed).toEqual([]);
  await small.close();
  await close();
});
