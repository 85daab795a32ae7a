import { randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import type { Person } from '../../src/studio/people/contract.js';
import { signIn } from '../../src/studio/staff/sign-in.js';
import { testApp } from '../support/app.js';
import { made, STUDIO } from '../support/fixtures.js';
import { operations } from '../support/operations.js';

const { app, db, clock, owner, ownerMember } = await testApp();
const cookie = `wareboard=${await signIn(db, clock.now(), { email: ownerMember.email, password: 'a long test password' })}`;
const get = (url: string, headers: object = {}) => app.inject({ url, headers: { cookie, ...headers } });
const tag = async (url: string) => String((await get(url)).headers.etag);
const newPerson = () => made<Person>(owner, '/api/people', { name: 'Ines Duval' });

test('every address that is replaced shows its tag, and says in the document what it takes', async () => {
  const all = await operations(app);
  const edits = all.filter(({ method }) => method === 'PUT');
  expect(edits.map(({ path }) => path).sort()).toEqual([
    '/api/boards/{boardId}',
    '/api/closures/{closureId}',
    '/api/course-plans/{planId}',
    '/api/courses/{courseId}/particulars',
    '/api/courses/{courseId}/terms',
    '/api/kilns/{kilnId}',
    '/api/materials/{materialId}',
    '/api/materials/{materialId}/selling-price',
    '/api/materials/{materialId}/supply',
    '/api/membership-kinds/{membershipKindId}',
    '/api/mixes/{mixId}',
    '/api/people/{personId}',
    '/api/people/{personId}/care-note',
    '/api/people/{personId}/guardians',
    '/api/refund-policies/{refundPolicyId}',
    '/api/rooms/{roomId}',
    '/api/schedules/{scheduleId}',
    '/api/staff/{staffMemberId}',
    '/api/studio',
    '/api/suppliers/{supplierId}',
    '/api/tariffs/{tariffId}',
    '/api/tax-rates/{taxRateId}',
    '/api/test-tiles/{tileId}',
    '/api/web-page',
  ]);
  for (const edit of edits) {
    expect(edit.parameters.map(({ name }) => name)).toEqual(expect.arrayContaining(['If-Match', 'Idempotency-Key']));
    expect(Object.keys(edit.responses)).toEqual(expect.arrayContaining(['200', '412', '428']));
    const read = all.find(({ name }) => name === `GET ${edit.path}`);
    expect(read?.parameters.map(({ name }) => name)).toContain('If-None-Match');
    expect(read?.responses).toMatchObject({ 200: { headers: { ETag: {} } }, 304: { headers: { ETag: {} } } });
  }
});

describe('a person who is edited', () => {
  test('bears the same tag wherever they are shown, and another once they changed', async () => {
    const added = await owner.post('/api/people', { name: 'Ines Duval' });
    const url = `/api/people/${added.json().id}`;
    expect(added.headers.etag).toMatch(/^"[\w-]{27}"$/);
    expect(await tag(url)).toBe(added.headers.etag);
    const changed = await owner.put(url, { name: 'Ines Reyl' });
    expect(changed.statusCode).toBe(200);
    expect(changed.headers.etag).not.toBe(added.headers.etag);
    expect(await tag(url)).toBe(changed.headers.etag);
    expect((await app.inject({ method: 'HEAD', url, headers: { cookie } })).headers.etag).toBe(changed.headers.etag);
  });

  test('is not changed by somebody who has not read them, or has not read the latest', async () => {
    const { id, ...person } = await newPerson();
    const url = `/api/people/${id}`;
    const before = await tag(url);
    await owner.put(url, { ...person, phone: '1' });
    const put = (conditions: object) => owner.put(url, { ...person, phone: '2' }, randomUUID(), conditions);
    expect((await put({})).json()).toMatchObject({
      ...{ type: '/problems/tag-required', status: 428, detail: expect.stringContaining('If-Match') },
    });
    for (const header of [before, `W/${await tag(url)}`, '"of-another"'])
      expect((await put({ 'if-match': header })).json()).toMatchObject({
        ...{ type: '/problems/changed-meanwhile', status: 412, detail: expect.stringMatching(/^Nothing was saved/) },
      });
    expect((await put({ 'if-match': 'no tag' })).json()).toMatchObject({ type: '/problems/malformed', status: 400 });
    expect((await get(url)).json()).toMatchObject({ phone: '1' });
    expect((await put({ 'if-match': `${before}, ${await tag(url)}` })).json()).toMatchObject({ phone: '2' });
    expect((await owner.put(url, person, randomUUID(), { 'if-match': '*' })).statusCode).toBe(200);
  });

  test('is answered the same again where the same request is sent again, though the tag is not the latest', async () => {
    const { id, ...person } = await newPerson();
    const url = `/api/people/${id}`;
    const [key, conditions] = [randomUUID(), { 'if-match': await tag(url) }];
    const first = await owner.put(url, { ...person, phone: '1' }, key, conditions);
    await owner.put(url, { ...person, phone: '2' });
    const again = await owner.put(url, { ...person, phone: '1' }, key, conditions);
    expect([again.statusCode, again.json(), again.headers.etag]).toEqual([200, first.json(), first.headers.etag]);
    expect((await get(url)).json()).toMatchObject({ phone: '2' });
  });

  test('is changed by one only of many who read the same and change it at once', async () => {
    const { id, ...person } = await newPerson();
    const url = `/api/people/${id}`;
    const conditions = { 'if-match': await tag(url) };
    const answers = await Promise.all(
      Array.from({ length: 20 }, (_, i) => owner.put(url, { ...person, phone: `${i}` }, randomUUID(), conditions)),
    );
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([200, ...Array(19).fill(412)]);
    const kept = answers.find(({ statusCode }) => statusCode === 200);
    expect((await get(url)).json()).toEqual(kept?.json());
  });

  test('is not sent again to somebody who has read the same', async () => {
    const { id } = await newPerson();
    const url = `/api/people/${id}`;
    const etag = await tag(url);
    for (const header of [etag, `W/${etag}`, `"other", ${etag}`, '*']) {
      const answer = await get(url, { 'if-none-match': header });
      expect([answer.statusCode, answer.body, answer.headers.etag]).toEqual([304, '', etag]);
      expect(answer.headers['cache-control']).toBe('private, no-cache');
    }
    const other = await get(url, { 'if-none-match': '"other"' });
    expect([other.statusCode, other.json().id]).toEqual([200, id]);
    const unreadable = await get(url, { 'if-none-match': 'no tag' });
    expect([unreadable.statusCode, unreadable.json().type]).toEqual([400, '/problems/malformed']);
    expect(unreadable.headers['content-type']).toMatch(/^application\/problem\+json/);
    expect(unreadable.headers.etag).toBeUndefined();
    const nobody = await get(`/api/people/${randomUUID()}`, { 'if-none-match': '*' });
    expect([nobody.statusCode, nobody.headers.etag]).toEqual([404, undefined]);
  });
});

test('the studio is entered by one only of many at once, and is then changed like anything else', async () => {
  const rate = await made(owner, '/api/tax-rates', { name: 'Standard', kind: 'standard', percent: '20' });
  const studio = { ...STUDIO, firingTaxRateId: rate.id };
  const put = (name: string, conditions: object) =>
    owner.put('/api/studio', { ...studio, name }, randomUUID(), conditions);
  expect((await put('Nobody', {})).json()).toMatchObject({
    ...{ type: '/problems/tag-required', detail: expect.stringContaining('If-None-Match: *') },
  });
  expect((await put('Nobody', { 'if-match': '*' })).statusCode).toBe(412);
  const entered = await Promise.all(Array.from({ length: 10 }, (_, i) => put(`Ware ${i}`, { 'if-none-match': '*' })));
  expect(entered.map(({ statusCode }) => statusCode).sort()).toEqual([200, ...Array(9).fill(412)]);
  const conditions = { 'if-match': await tag('/api/studio') };
  const changed = await Promise.all(Array.from({ length: 10 }, (_, i) => put(`Clay ${i}`, conditions)));
  expect(changed.map(({ statusCode }) => statusCode).sort()).toEqual([200, ...Array(9).fill(412)]);
  expect((await get('/api/studio')).json().name).toMatch(/^Clay/);
});
