import { Validator } from '@seriousme/openapi-schema-validator';
import { describe, expect, test, vi } from 'vitest';
import { RIGHTS } from '../../src/http/rights.js';
import { testApp } from '../support/app.js';
import { operations, somewhere } from '../support/operations.js';

const { app, db, owner } = await testApp();
await db.webPage.create({ data: { id: 1, isOn: true, namesTutors: false, takesRequests: true } }); // while it is off, its addresses answer 404
const all = await operations(app);

describe('the OpenAPI document', () => {
  // The JSON Schema of OpenAPI 3.1 (spec.openapis.org/oas/3.1), as @seriousme/openapi-schema-validator holds it
  test('is valid by the schema of OpenAPI 3.1, and every reference in it leads somewhere', async () => {
    const validator = new Validator();
    const document = (await app.inject('/openapi.json')).json();
    expect(await validator.validate(document)).toEqual({ valid: true });
    expect(validator.version).toBe('3.1');
    const named = Object.keys(document.components.schemas).map((name) => `#/components/schemas/${name}`);
    const referred = JSON.stringify(document).matchAll(/"\$ref":"([^"]+)"/g);
    expect([...referred].map(([, to]) => to).filter((to) => !named.includes(to ?? ''))).toEqual([]);
  });

  test('a document that is none is told from one that is', async () => {
    const document = structuredClone(app.swagger()) as { info: object };
    document.info = {};
    expect(await new Validator().validate(document as never)).toMatchObject({ valid: false });
  });

  test('tells of every route under /api', () => {
    expect(apiRoutes(app.printRoutes({ commonPrefix: false })).sort()).toEqual(all.map(({ name }) => name).sort());
    expect(all.length).toBeGreaterThan(70);
  });

  test('says of each what it is for, by whom it may be called, and a good answer', () => {
    for (const { name, tags, security, responses } of all) {
      expect(tags, name).toHaveLength(1);
      expect(
        Object.keys(responses).some((status) => status.startsWith('2')),
        name,
      ).toBe(true);
      for (const right of security.flatMap((way) => Object.values(way).flat())) expect(RIGHTS, name).toContain(right);
    }
    const open = all.filter(({ security }) => security.length === 0).map(({ name }) => name);
    expect(open).toEqual([
      ...['POST /api/set-up', 'POST /api/sign-in'],
      ...['POST /api/password-link', 'POST /api/password-link/use'],
      'GET /api/calendars/{file}', // by a secret in its address
      ...['json', 'html', 'ics'].map((ending) => `GET /api/public/courses.${ending}`), // while the owner has it on
      ...['GET /api/public/courses/{courseId}', 'POST /api/public/courses/{courseId}/requests'],
    ]);
  });

  test('says of each that changes something that it takes a key, except for coming and going', () => {
    const keyless = all.filter(
      ({ method, parameters }) => method !== 'GET' && parameters.every((p) => p.in !== 'header'),
    );
    const changesNothing = /^POST \/api\/(imports\/\w+\/check|session-checks|.+\/preview)$/;
    expect(keyless.map(({ name }) => name).filter((name) => !changesNothing.test(name))).toEqual([
      ...['POST /api/set-up', 'POST /api/sign-in', 'POST /api/sign-out'],
      'POST /api/password-link', // which looks, and changes nothing
      'POST /api/sign-out/others',
      ...['', '/visit', '/removal'].map((deed) => `POST /api/sample-studio${deed}`), // each comes to the same however often it is asked for
    ]);
  });

  test('says of each refusal that it is problem details', () => {
    for (const { name, responses } of all)
      for (const [status, { content }] of Object.entries(responses))
        if (Number(status) >= 400) expect(Object.keys(content ?? {}), name).toEqual(['application/problem+json']);
  });
});

test('the document is written once, and not sent again to whoever has it', async () => {
  const [first, second] = [await app.inject('/openapi.json'), await app.inject('/openapi.json')];
  expect(first.headers['content-type']).toMatch(/^application\/json/);
  expect(second.headers.etag).toBe(first.headers.etag);
  const written = vi.spyOn(JSON, 'stringify');
  const headers = { 'if-none-match': String(first.headers.etag) };
  const again = await app.inject({ url: '/openapi.json', headers });
  expect([again.statusCode, again.body]).toEqual([304, '']);
  expect((await app.inject('/openapi.json')).body).toBe(first.body);
  expect(written.mock.calls.filter(([what]) => typeof what === 'object')).toEqual([]);
  written.mockRestore();
});

test('the page that shows it is for those who are signed in, and brings no script from elsewhere', async () => {
  const nobody = await app.inject({ url: '/docs', headers: { accept: 'text/html' } });
  expect(nobody.statusCode).toBe(401);
  for (const url of ['/docs/', '/docs/json', '/docs/static/swagger-ui.css'])
    expect((await app.inject(url)).statusCode, url).toBe(401);
  const page = await owner.get('/docs/');
  expect(page.statusCode).toBe(200);
  expect(page.body).toContain('swagger-ui');
  expect(page.headers['content-security-policy']).toContain("script-src 'self'");
  expect(page.headers['content-security-policy']).not.toContain('unsafe-eval');
});

test('every list that names nobody answers an owner', async () => {
  for (const { name, method, path, parameters } of all) {
    if (method !== 'GET' || parameters.some((p) => p.in === 'path')) continue;
    const asked = parameters.some((p) => p.in === 'query' && p.name === 'q' && p.required) ? '?q=mug' : '';
    const answer = await owner.get(`${somewhere(path)}${asked}`);
    expect([200, 409], name).toContain(answer.statusCode); // 409: the studio is not entered yet
  }
});

/** "METHOD /path" of each route under /api, from the tree that Fastify prints. */
function apiRoutes(printed: string): string[] {
  const parts: string[] = [];
  return printed.split('\n').flatMap((line) => {
    const [, branch = '', rest = ''] = line.match(/^([│├└─\s]*)(.*)$/) ?? [];
    const [, part, methods] = rest.match(/^(.*?)(?: \((.*)\))?$/) ?? [];
    if (part === undefined || part === '') return [];
    const depth = branch.length / 4;
    parts.splice(depth - 1, parts.length, part);
    const path = parts.join('').replace(/:(\w+)/g, '{$1}');
    if (!path.startsWith('/api/') || !methods) return [];
    return methods.split(', ').flatMap((method) => (method === 'HEAD' ? [] : [`${method} ${path}`]));
  });
}
