import { readdirSync, readFileSync } from 'node:fs';
import { brotliDecompressSync, gunzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { encodingFor } from '../../src/server/compression.js';
import { signIn } from '../../src/studio/staff/sign-in.js';
import { testApp } from '../support/app.js';
import { cloneDemo } from '../support/demo.js';

const { app, db, clock, ownerMember } = await testApp({ clone: cloneDemo });
const token = await signIn(db, clock.now(), { email: ownerMember.email, password: 'a long test password' });
const get = (url: string, encodings?: string) =>
  app.inject({
    url,
    headers: { cookie: `wareboard=${token}`, ...(encodings !== undefined && { 'accept-encoding': encodings }) },
  });

describe('a long answer', () => {
  const url = '/api/people?limit=200';

  test.each([
    ['br', 'gzip, deflate, br', brotliDecompressSync],
    ['gzip', 'gzip', gunzipSync],
  ] as const)('comes as %s to who takes it, and says the same', async (encoding, asked, decompress) => {
    const [plain, short] = [await get(url), await get(url, asked)];
    expect(plain.headers['content-encoding']).toBeUndefined();
    expect(short.headers['content-encoding']).toBe(encoding);
    expect([plain, short].map(({ headers }) => headers.vary)).toEqual(['Accept-Encoding', 'Accept-Encoding']);
    expect(decompress(short.rawPayload).toString()).toBe(plain.body);
    expect(short.rawPayload.length).toBeLessThan(plain.rawPayload.length / 2);
    expect(Number(short.headers['content-length'] ?? short.rawPayload.length)).toBe(short.rawPayload.length);
  });

  test('stays as it is for who takes no compression', async () => {
    for (const asked of ['', 'identity', 'br;q=0, gzip;q=0', 'deflate'])
      expect((await get(url, asked)).headers['content-encoding'], asked).toBeUndefined();
  });
});

describe('is left as it is', () => {
  test('what is short', async () => {
    expect((await get('/api/me', 'br')).headers['content-encoding']).toBeUndefined();
  });

  test('what bears a strong tag: it stands for one encoding', async () => {
    const { id } = await db.testTile.findFirstOrThrow();
    await db.testTile.update({ where: { id }, data: { notes: 'A long story. '.repeat(140) } });
    const answer = await get(`/api/test-tiles/${id}`, 'br');
    expect(answer.headers.etag).toMatch(/^"/);
    expect(answer.rawPayload.length).toBeGreaterThan(2048);
    expect(answer.headers['content-encoding']).toBeUndefined();
  });

  test('what was asked for by POST, which may bear a new token beside what was sent', async () => {
    const answer = await app.inject({
      method: 'POST',
      url: '/api/imports/people/check',
      headers: {
        ...{ cookie: `wareboard=${token}`, 'sec-fetch-site': 'same-origin' },
        ...{ 'accept-encoding': 'br', 'content-type': 'text/csv' },
      },
      payload: `name\n${'Ines\n'.repeat(400)}`,
    });
    expect(answer.rawPayload.length).toBeGreaterThan(2048);
    expect(answer.headers['content-encoding']).toBeUndefined();
  });
});

test('the document of the API is compressed, and still known by its tag', async () => {
  const first = await get('/openapi.json', 'br');
  expect(first.headers['content-encoding']).toBe('br');
  const again = await app.inject({ url: '/openapi.json', headers: { 'if-none-match': String(first.headers.etag) } });
  expect(again.statusCode).toBe(304);
});

test.each([
  ['br, gzip', 'br'],
  ['gzip;q=1.0, br;q=0.5', 'gzip'],
  ['*', 'br'],
  ['*;q=0, gzip', 'gzip'],
  ['br;q=0', undefined],
  ['GZIP', 'gzip'],
])('of %s, %s is taken', (header, way) => expect(encodingFor(header)).toBe(way));

test('the desk comes compressed when it was built', async () => {
  const script = readdirSync('dist/desk/assets').find((name) => /^index-.*\.js$/.test(name)) ?? '';
  const [plain, short] = [await get(`/assets/${script}`), await get(`/assets/${script}`, 'br, gzip')];
  expect([plain, short].map(({ headers }) => headers['content-encoding'])).toEqual([undefined, 'br']);
  expect([plain, short].map(({ headers }) => headers.vary)).toEqual(['Accept-Encoding', 'Accept-Encoding']);
  expect(brotliDecompressSync(short.rawPayload).equals(readFileSync(`dist/desk/assets/${script}`))).toBe(true);
  expect(short.headers['content-type']).toMatch(/javascript/);
});
