import { existsSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { expect, inject, test } from 'vitest';
import { withClient } from '../../src/database/client.js';
import { makeDatabase } from '../support/database.js';
import { folder } from '../support/embedded.js';
import { mailServer } from '../support/mail-server.js';
import { type Program, run } from '../support/program.js';

const OWNER = { name: 'Ines Roe', email: 'ines@ostlemere.example', password: 'a long test password' };

/** The desk's side of a studio that was set up through the link it printed. */
async function setUp(program: Program) {
  const [, base = '', token] = await program.prints(/^Nobody can sign in yet\..*: (http\S+)\/set-up#(\S+)$/m);
  await ask(base, '/api/set-up', '', { token, ...OWNER });
  return signIn(base);
}

async function signIn(base: string) {
  const { email, password } = OWNER;
  const answer = await ask(base, '/api/sign-in', '', { email, password });
  const cookie = cookieOf(answer);
  return {
    base,
    get: async (path: string) => told(await ask(base, path, cookie)),
    post: (path: string) => ask(base, path, cookie, {}),
  };
}

type Told = Record<'state' | 'detail' | 'url' | 'type', string> & { items: unknown[] };
const told = async (answer: Response) => (await answer.json()) as Told;
const cookieOf = (answer: Response) => answer.headers.get('set-cookie')?.split(';')[0] ?? '';

const ask = (base: string, path: string, cookie: string, body?: object) =>
  fetch(`${base}${path}`, {
    method: body ? 'POST' : 'GET',
    headers: {
      ...{ cookie, 'sec-fetch-site': 'same-origin', 'idempotency-key': crypto.randomUUID() },
      ...(body && { 'content-type': 'application/json' }),
    },
    ...(body && { body: JSON.stringify(body) }),
  });

/** Waits until the sample is made. */
async function ready(own: Awaited<ReturnType<typeof signIn>>) {
  for (;;) {
    const { state, detail } = await own.get('/api/sample-studio');
    if (state === 'ready') return;
    if (state !== 'loading') throw new Error(`${state}: ${detail}`);
    await sleep(500);
  }
}

async function stop(program: Program) {
  program.process.kill('SIGTERM');
  expect(await program.ended).toBe(0);
}

test('on the embedded server it is made, left unfinished and made anew, visited, and removed without a trace', async () => {
  const data = await folder();
  const env = { WAREBOARD_DATA: data, PORT: '0' };
  const first = run(['serve'], env);
  const before = await setUp(first);
  expect(await before.get('/api/sample-studio')).toEqual({ state: 'absent', detail: null });
  const begun = await before.post('/api/sample-studio');
  expect([begun.status, await told(begun)]).toEqual([202, { state: 'loading', detail: null }]);
  expect(await told(await before.post('/api/sample-studio'))).toEqual({ state: 'loading', detail: null });
  expect((await before.post('/api/sample-studio/removal')).status).toBe(409);
  await stop(first); // while it loads

  const second = run(['serve'], env);
  const [, base = ''] = await second.prints(/^Wareboard is at (http\S+)$/m);
  const own = await signIn(base);
  expect(await own.get('/api/sample-studio')).toEqual({ state: 'absent', detail: null });
  expect((await own.post('/api/sample-studio/visit')).status).toBe(409);
  await own.post('/api/sample-studio');
  await ready(own);
  const visit = await own.post('/api/sample-studio/visit');
  const cookie = cookieOf(visit);
  expect(cookie).toMatch(/^wareboard-sample=[\w-]{43}$/);
  const { url } = await told(visit);
  expect(new URL(url).hostname).toBe('127.0.0.1');
  expect(url).not.toBe(base);
  const me = await told(await ask(url, '/api/me', cookie));
  expect(me).toMatchObject({ role: 'owner', sample: { ownStudio: base }, studio: { name: 'Alder Lane Pottery' } });
  expect(await own.get('/api/me')).toMatchObject({ name: OWNER.name, sample: null, studio: null });

  // neither lets the other's people in, and neither sees the other's people
  const ofSample = await told(await ask(url, '/api/people?limit=200', cookie));
  expect(ofSample.items).toHaveLength(60);
  expect((await own.get('/api/people')).items).toEqual([]);
  expect((await ask(url, '/api/me', cookie.replace('wareboard-sample', 'wareboard'))).status).toBe(401);
  expect((await ask(base, '/api/me', cookie)).status).toBe(401);
  const known = { email: 'mara@alderlane.example', password: 'alder lane demo' }; // stands in the README
  expect((await ask(url, '/api/sign-in', '', known)).status).toBe(401);
  const inside = await ask(url, '/api/sample-studio/removal', cookie, {});
  expect(await told(inside)).toMatchObject({ type: '/problems/sample-impossible' });

  expect(await told(await own.post('/api/sample-studio/removal'))).toEqual({ state: 'absent', detail: null });
  await expect(ask(url, '/api/me', cookie)).rejects.toThrow();
  expect(existsSync(join(data, 'sample'))).toBe(false);
  expect((await own.post('/api/sample-studio/removal')).status).toBe(200);
  await stop(second);
});

/** A database that belongs to a role which may make no others. */
async function ofPoorRole() {
  const { url } = inject('testServer');
  const address = new URL(await makeDatabase());
  const name = address.pathname.slice(1);
  const role = `${name}_role`;
  await withClient(url, (client) =>
    client.query(`CREATE ROLE ${role} LOGIN PASSWORD 'clay'; ALTER DATABASE ${name} OWNER TO ${role}`),
  );
  [address.username, address.password] = [role, 'clay'];
  const asSuperuser = (sql: string) => withClient(url, (client) => client.query(sql));
  const own = new URL(url);
  own.pathname = `/${name}`;
  /** Roles are the whole server's, and stay when their databases go. */
  const forget = async () => {
    await withClient(own.href, (client) =>
      client.query(`REASSIGN OWNED BY ${role} TO CURRENT_USER; DROP OWNED BY ${role}`),
    );
    await asSuperuser(`DROP ROLE ${role}`);
  };
  return { url: address.href, name, role, asSuperuser, forget };
}

test('where the role may not make a database, the refusal says what to run; its letters never reach the mail server', async () => {
  const { url, name, role, asSuperuser, forget } = await ofPoorRole();
  const mail = await mailServer();
  const data = await folder();
  const env = { DATABASE_URL: url, WAREBOARD_DATA: data, SMTP_URL: mail.url, MAIL_FROM: 'bench@ostlemere.example' };
  const program = run(['serve'], { ...env, PORT: '0' });
  const own = await setUp(program);
  const { type, detail } = await told(await own.post('/api/sample-studio'));
  expect(type).toBe('/problems/sample-impossible');
  const [statement = ''] = detail.match(/CREATE DATABASE [^;]*;/) ?? [];
  expect(statement).toContain(`"${name}_sample" OWNER "${role}"`);

  // a database of that name with somebody's table in it is left alone
  await asSuperuser(statement);
  const strangers = new URL(url);
  strangers.pathname = `/${name}_sample`;
  await withClient(strangers.href, (client) => client.query('CREATE TABLE accounts_of_somebody ()'));
  expect((await told(await own.post('/api/sample-studio'))).detail).toContain('left alone');
  expect((await own.post('/api/sample-studio/removal')).status).toBe(200);
  await withClient(strangers.href, (client) => client.query('DROP TABLE accounts_of_somebody'));

  expect((await own.post('/api/sample-studio')).status).toBe(202);
  await ready(own);
  const { url: sample } = await told(await own.post('/api/sample-studio/visit'));
  expect(sample).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
  for (;;) {
    const written = await readdir(join(data, 'sample', 'outbox')).catch(() => []);
    if (written.some((file) => file.endsWith('.eml'))) break;
    await sleep(200);
  }
  expect(mail.begun).toEqual([]);
  await own.post('/api/sample-studio/removal');
  expect((await asSuperuser(`SELECT FROM pg_database WHERE datname = '${name}_sample'`)).rowCount).toBe(0);
  await stop(program);
  await forget();
});

test('a part of the program that runs by itself has no sample, and says what to do', async () => {
  const program = run(['serve', '--only=api'], {
    DATABASE_URL: await makeDatabase("ENCODING 'UTF8' TEMPLATE template0"),
    PORT: '0',
  });
  const own = await setUp(program);
  expect(await own.get('/api/sample-studio')).toEqual({
    state: 'impossible',
    detail: expect.stringContaining('npm run demo'),
  });
  expect((await own.post('/api/sample-studio')).status).toBe(409);
  await stop(program);
});
