import { expect, test } from 'vitest';
import { checkServer, openDatabase } from '../../src/database/client.js';
import { makeDatabase, testDatabase } from '../support/database.js';

const { db, url } = await testDatabase();

test('every session is in UTC with limits on time, whatever the server and the address say', async () => {
  const address = new URL(url);
  address.searchParams.set('options', '-c TimeZone=Asia/Tokyo -c work_mem=8MB');
  const { db: other, close } = await openDatabase(address.href);
  const settings = await other.$queryRaw`SELECT name, setting FROM pg_settings WHERE name IN
    ('TimeZone', 'lock_timeout', 'statement_timeout', 'idle_in_transaction_session_timeout', 'work_mem') ORDER BY lower(name)`;
  expect(settings).toEqual([
    { name: 'idle_in_transaction_session_timeout', setting: '30000' },
    { name: 'lock_timeout', setting: '10000' },
    { name: 'statement_timeout', setting: '30000' },
    { name: 'TimeZone', setting: 'UTC' },
    { name: 'work_mem', setting: '8192' },
  ]);
  await close();
});

test('an instant comes back as it went in, across a change of the clock', async () => {
  const instants = ['2026-03-29T00:59:59.999Z', '2026-03-29T01:00:00.000Z', '2026-10-25T01:30:00.000Z'];
  const rows = instants.map((at, i) => ({
    caller: 'x',
    key: `key-${i}-----`,
    fingerprint: 'x',
    createdAt: new Date(at),
  }));
  await db.requestKey.createMany({ data: rows });
  const back = await db.requestKey.findMany({ where: { caller: 'x' }, orderBy: { createdAt: 'asc' } });
  expect(back.map((row) => row.createdAt.toISOString())).toEqual(instants);
  const raw =
    await db.$queryRaw`SELECT count(*)::integer AS n FROM request_key WHERE created_at = ${new Date(instants[1] as string)}`;
  expect(raw).toEqual([{ n: 1 }]);
});

/** The same address with something changed. */
function changed(change: (address: URL) => void): string {
  const address = new URL(url);
  change(address);
  return address.href;
}

test.each([
  [
    'no server',
    () => changed((a) => Object.assign(a, { port: '1', password: 'pa55-word' })),
    /no server listens there\. Is PostgreSQL running/,
  ],
  [
    'no such host',
    () => changed((a) => Object.assign(a, { hostname: 'kiln.invalid', password: 'pa55-word' })),
    /no host of that name|no answer/,
  ],
  [
    'a wrong password',
    () => changed((a) => Object.assign(a, { username: 'nobody_here', password: 'pa55-word' })),
    /refuses the user or the password/,
  ],
  ['no such database', () => changed((a) => (a.pathname = '/no_such_studio')), /has no database of that name/],
])('%s is refused with what to check, and without the password', async (_, address, message) => {
  const opening = openDatabase(address());
  await expect(opening).rejects.toThrow(message);
  await expect(opening).rejects.toMatchObject({ name: 'CannotStart' });
  await expect(opening).rejects.not.toThrow(/pa55-word/);
  await expect(opening).rejects.not.toThrow(/\n/);
});

test('a database that is not in UTF-8 is refused', async () => {
  const latin = await makeDatabase(`ENCODING 'LATIN1' LOCALE 'C' TEMPLATE template0`);
  await expect(openDatabase(latin)).rejects.toThrow(/is in LATIN1 and couldn't hold every name/);
});

test.each([
  [15, /is PostgreSQL 15; Wareboard needs 16 or newer/],
  [16, undefined],
])('a server of version %i', async (version, message) => {
  const found = { rows: [{ version, encoding: 'UTF8', name: 'x' }] };
  const checking = checkServer({ query: async () => found } as never);
  await (message ? expect(checking).rejects.toThrow(message) : expect(checking).resolves.toBeUndefined());
});
