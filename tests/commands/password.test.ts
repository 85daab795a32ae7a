import { expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { cloneTemplate } from '../support/database.js';
import { folder } from '../support/embedded.js';
import { run } from '../support/program.js';

const { db, url, ownerMember, stranger } = await testApp();

const LINK = /^(http\S+)\/password#([\w-]{43})$/m;

test('a link is printed by which a lost password is replaced, while the studio is served', async () => {
  const program = run(['password', 'OWNER@example.org'], { DATABASE_URL: url, BASE_URL: 'https://studio.example/' });
  expect(await program.ended).toBe(0);
  expect(program.out()).toContain(`With this link Test owner (${ownerMember.email}) chooses a new password.`);
  const [, base, token] = program.out().match(LINK) ?? [];
  expect(base).toBe('https://studio.example');
  await db.staffLink.updateMany({ data: { createdAt: new Date(0), expiresAt: new Date('2100-01-01') } }); // the API's clock is a test's
  const used = await stranger.post('/api/password-link/use', { token, password: 'found another one' });
  expect([used.statusCode, used.json().id]).toEqual([200, ownerMember.id]);
  const [letters] = await db.$queryRaw<{ n: number }[]>`SELECT count(*)::int AS n FROM graphile_worker.jobs`;
  expect(letters?.n).toBe(0); // it is printed, not sent
});

test('an address that nobody signs in with is told, with those that there are', async () => {
  const program = run(['password', 'nobody@example.org'], { DATABASE_URL: url });
  expect(await program.ended).toBe(1);
  expect(program.err()).toContain(
    'Nobody signs in as nobody@example.org. These do: owner@example.org, tutor@example.org.',
  );
});

test('a studio without staff is told to set itself up', async () => {
  const program = run(['password', 'nobody@example.org'], { DATABASE_URL: await cloneTemplate() });
  expect(await program.ended).toBe(1);
  expect(program.err()).toContain('Nobody can sign in yet. Start Wareboard (npm start)');
});

test('it works on the embedded database too, while the studio is served', async () => {
  const data = await folder();
  const env = { WAREBOARD_DATA: data, PORT: '0' };
  const served = run(['serve'], env);
  const [, base = '', token] = await served.prints(/^Nobody can sign in yet\..*: (http\S+)\/set-up#(\S+)$/m);
  const send = (path: string, body: object) =>
    fetch(`${base}/api${path}`, {
      method: 'POST',
      headers: {
        ...{ 'content-type': 'application/json', 'sec-fetch-site': 'same-origin' },
        'idempotency-key': crypto.randomUUID(),
      },
      body: JSON.stringify(body),
    });
  const owner = { name: 'Mara Lind', email: 'mara@alderlane.example', password: 'the one I lose' };
  expect((await send('/set-up', { token, ...owner })).status).toBe(201);
  const program = run(['password', owner.email], { ...env, PORT: '4747' });
  expect(await program.ended).toBe(0);
  const [, printed, fresh] = program.out().match(LINK) ?? [];
  expect(printed).toBe('http://127.0.0.1:4747');
  expect((await send('/password-link/use', { token: fresh, password: 'the one I keep' })).status).toBe(200);
  const signIn = (password: string) => send('/sign-in', { email: owner.email, password });
  expect([(await signIn('the one I lose')).status, (await signIn('the one I keep')).status]).toEqual([401, 204]);
  served.process.kill('SIGTERM');
  expect(await served.ended).toBe(0);
});
