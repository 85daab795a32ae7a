import { readFileSync } from 'node:fs';
import { request } from 'node:https';
import type { AddressInfo } from 'node:net';
import { afterAll, describe, expect, test } from 'vitest';
import { readCertificate } from '../../src/commands/certificate.js';
import { buildApp } from '../../src/server/app.js';
import { testApp } from '../support/app.js';
import { elsewhere } from '../support/operations.js';

const { app, db, clock, ownerMember } = await testApp();
const fileOf = (name: string) => new URL(`../support/certificate/${name}`, import.meta.url).pathname;
const files = { certFile: fileOf('certificate.pem'), keyFile: fileOf('key.pem') };
const [proxied, open, secure] = await Promise.all([
  buildApp({ db, now: clock.now, trustProxy: '10.9.9.9' }),
  buildApp({ db, now: clock.now, plainHttp: true }),
  buildApp({ db, now: clock.now, tls: readCertificate({ tls: files }) }),
]);
for (const other of [proxied, open, secure]) afterAll(() => other.close());
const CREDENTIALS = { email: ownerMember.email, password: 'a long test password' };
const signIn = (host: string, more: object = {}, through = app, remoteAddress = elsewhere()) =>
  through.inject({
    ...{ method: 'POST', url: '/api/sign-in', payload: CREDENTIALS, remoteAddress },
    headers: { 'sec-fetch-site': 'same-origin', host, ...more },
  });

describe('a password over plain HTTP', () => {
  test.each(['localhost:4747', '127.0.0.1:4747', '[::1]:4747', '127.0.0.1'])(
    'is taken on the machine itself: %s',
    async (host) => {
      expect((await signIn(host)).statusCode).toBe(204);
    },
  );

  test.each(['192.168.1.5:4747', 'studio.example', 'localhost.evil.example', '127.0.0.1.evil.example'])(
    'is refused from another machine: %s',
    async (host) => {
      const answer = await signIn(host);
      expect(answer.json()).toMatchObject({ type: '/problems/readable-on-the-way', status: 403 });
      expect(answer.headers['set-cookie']).toBeUndefined();
      expect((await signIn(host, {}, open)).statusCode).toBe(204);
    },
  );
});

test('a proxy’s word for HTTPS counts where the proxy is trusted, and from nobody else', async () => {
  const forwarded = { 'x-forwarded-proto': 'https', 'x-forwarded-host': 'studio.example' };
  const trusted = await signIn('inner:4747', forwarded, proxied, '10.9.9.9');
  expect([trusted.statusCode, String(trusted.headers['set-cookie'])]).toEqual([
    204,
    expect.stringMatching(/^__Host-.*; Secure/),
  ]);
  expect((await signIn('inner:4747', forwarded, proxied, '10.9.9.8')).statusCode).toBe(403);
  expect((await signIn('inner:4747', forwarded, app, '10.9.9.9')).statusCode).toBe(403);
});

test('HTTPS is served with certificate files, and its cookie is a secure one', async () => {
  await secure.listen({ host: '127.0.0.1', port: 0 });
  const { port } = secure.server.address() as AddressInfo;
  const [status, cookie] = await new Promise<[number | undefined, string]>((resolve, reject) => {
    const headers = { 'content-type': 'application/json', 'sec-fetch-site': 'none', host: 'studio.example' };
    const options = {
      host: '127.0.0.1',
      servername: 'localhost',
      port,
      ca: readFileSync(files.certFile),
      path: '/api/sign-in',
    };
    const sent = request({ ...options, method: 'POST', headers }, (answer) =>
      resolve([answer.statusCode, String(answer.headers['set-cookie'])]),
    );
    sent.on('error', reject).end(JSON.stringify(CREDENTIALS));
  });
  expect([status, cookie]).toEqual([204, expect.stringMatching(/^__Host-wareboard=.*; Secure/)]);
});

test('files that cannot serve HTTPS are told', () => {
  const read = (changes: Partial<typeof files>) => () => readCertificate({ tls: { ...files, ...changes } });
  expect(read({ certFile: '/nowhere.pem' })).toThrow("TLS_CERT names /nowhere.pem, which can't be read (ENOENT).");
  expect(read({ certFile: files.keyFile })).toThrow('TLS_CERT must be a certificate in PEM');
  expect(read({ keyFile: files.certFile })).toThrow('TLS_KEY must be a private key in PEM, without a password.');
  expect(read({ keyFile: fileOf('other-key.pem') })).toThrow('TLS_KEY is not the key of the certificate');
});
