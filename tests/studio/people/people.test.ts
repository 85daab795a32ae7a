import { randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import type { Person } from '../../../src/studio/people/contract.js';
import { testApp } from '../../support/app.js';
import { made } from '../../support/fixtures.js';

const { db, owner, tutor, stranger } = await testApp();
const INES = {
  name: 'Ines Duval',
  paperName: null,
  email: 'ines@example.org',
  phone: '07700 900123',
  addressLines: ['3 Mill Row', 'Ostlemere'],
  memberSince: '2024-02-29',
  ...{ isChild: false, wishes: null, note: null },
};
const add = (body: object = {}) => made<Person>(owner, '/api/people', { ...INES, ...body });

describe('a person', () => {
  test('is added, shown, changed and found by a part of the name', async () => {
    const ines = await add();
    expect(ines).toEqual({ id: expect.any(String), ...INES });
    expect((await tutor.get(`/api/people/${ines.id}`)).json()).toEqual(ines);
    const changed = {
      name: 'Ines Duval-Reyl',
      paperName: 'I. Duval-Reyl',
      email: null,
      phone: null,
      addressLines: [],
      memberSince: null,
      ...{ isChild: false, wishes: 'Raku, once she has thrown a year', note: 'Has a key to the yard' },
    };
    expect((await owner.put(`/api/people/${ines.id}`, changed)).json()).toEqual({ id: ines.id, ...changed });
    await add({ name: 'Eleni Κωστή' });
    const found = async (q: string) => (await owner.get(`/api/people?q=${encodeURIComponent(q)}`)).json().items.length;
    expect([
      await found('duval'),
      await found('ΚΩΣ'),
      await found('nobody'),
      await found('%'),
      await found('_'),
    ]).toEqual([1, 1, 0, 0, 0]);
  });

  test('needs no more than a name, which may be that of another', async () => {
    const [one, other] = [
      await made<Person>(owner, '/api/people', { name: '  Bo Lindqvist ' }),
      await add({ name: 'Bo Lindqvist' }),
    ];
    expect(one).toEqual({
      ...{
        id: one.id,
        name: 'Bo Lindqvist',
        paperName: null,
        email: null,
        phone: null,
        addressLines: [],
        memberSince: null,
      },
      ...{ isChild: false, wishes: null, note: null },
    });
    expect(other.id).not.toBe(one.id);
  });

  test('keeps a name in any script in full, and is found by its spelling on papers too', async () => {
    const mei = await add({ name: '林美', paperName: 'Lin Mei' });
    expect((await owner.get(`/api/people/${mei.id}`)).json()).toMatchObject({ name: '林美', paperName: 'Lin Mei' });
    for (const q of ['林美', 'lin m'])
      expect((await owner.get(`/api/people?q=${encodeURIComponent(q)}`)).json().items).toEqual([mei]);
  });

  test('is added once for a key, also where it is sent at once', async () => {
    const key = randomUUID();
    const answers = await Promise.all(
      Array.from({ length: 10 }, () => owner.post('/api/people', { name: 'Odile Marsh' }, key)),
    );
    expect(new Set(answers.map(({ body }) => body)).size).toBe(1);
    expect(await db.person.count({ where: { name: 'Odile Marsh' } })).toBe(1);
    const reused = await owner.post('/api/people', { name: 'Odile Marshal' }, key);
    expect(reused.json()).toMatchObject({ type: '/problems/key-reused', status: 422 });
    expect((await tutor.post('/api/people', { name: 'x' }, key)).statusCode).toBe(403);
  });

  test('is not there', async () => {
    const nobody = `/api/people/${randomUUID()}`;
    for (const answer of [await owner.get(nobody), await owner.put(nobody, INES)])
      expect(answer.json()).toMatchObject({
        type: '/problems/not-found',
        lookUp: '/api/people',
      });
  });

  test.each([
    [
      'a spelling for papers that the font lacks',
      { paperName: '陶芸 Ines' },
      '#/paperName',
      /can't be printed: the font lacks 陶 芸\. Write it in Latin, Greek or Cyrillic/,
    ],
    ['no name', { name: '   ' }, '#/name', /./],
    ['a name of two lines', { name: 'Ines\r\nBcc: all@example.org' }, '#/name', /must be one line of text/],
    ['a name without end', { name: 'x'.repeat(201) }, '#/name', /./],
    ['what is no address for mail', { email: 'ines at home' }, '#/email', /./],
    ['an address that the font lacks', { addressLines: ['3 Mill Row', '京都'] }, '#/addressLines/1', /京 都/],
    ['a ninth line', { addressLines: Array(9).fill('x') }, '#/addressLines', /./],
  ])('is refused: %s', async (_, changes, pointer, detail) => {
    const before = await db.person.count();
    const answer = await owner.post('/api/people', { ...INES, ...changes });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().errors[0]).toMatchObject({ pointer, detail: expect.stringMatching(detail) });
    expect(await db.person.count()).toBe(before);
    expect(await db.requestKey.count()).toBeGreaterThan(0);
  });

  test('is the owner’s to write, and for staff to see', async () => {
    expect((await tutor.post('/api/people', INES)).statusCode).toBe(403);
    expect((await tutor.put(`/api/people/${randomUUID()}`, INES)).statusCode).toBe(403);
    expect((await stranger.get('/api/people')).statusCode).toBe(401);
  });
});

test('a list runs page by page, each person once, in the order in which they came', async () => {
  const names = Array.from({ length: 7 }, (_, i) => `Page ${i}`);
  for (const name of names) await add({ name });
  const seen: string[] = [];
  for (let next: string | null = ''; next !== null; ) {
    const page: { items: Person[]; next: string | null } = (
      await owner.get(`/api/people?q=Page&limit=3${next && `&after=${next}`}`)
    ).json();
    expect(page.items.length).toBeLessThanOrEqual(3);
    seen.push(...page.items.map(({ name }: Person) => name));
    next = page.next;
  }
  expect(seen).toEqual(names);
  for (const limit of [0, 201, 'x']) expect((await owner.get(`/api/people?limit=${limit}`)).statusCode).toBe(422);
});

test('a list goes on after a row that has gone meanwhile, and keeps to what was asked for', async () => {
  const [first, gone, another, last] = [
    await add({ name: 'Gone 0' }),
    await add({ name: 'Gone 1' }),
    await add({ name: 'Elsewhere' }),
    await add({ name: 'Gone 2' }),
  ];
  const list = async (query: string) => (await owner.get(`/api/people?${query}`)).json();
  expect(await list('q=Gone&limit=2')).toMatchObject({
    items: [first, gone],
    next: gone.id,
    total: 3,
    totalIsMinimum: false,
  });
  expect((await owner.post(`/api/people/${last.id}/merges`, { otherId: gone.id })).statusCode).toBe(201);
  expect(await list(`q=Gone&limit=2&after=${gone.id}`)).toMatchObject({ items: [last], next: null });
  expect(await list(`limit=2&after=${gone.id}`)).toMatchObject({ items: [another, last], next: null });
});

const listed = async (query: string): Promise<string[]> => {
  const answer = await owner.get(`/api/people?${query}`);
  if (answer.statusCode !== 200) throw new Error(answer.body);
  return answer.json().items.map(({ name }: Person) => name);
};

test.each([
  ['uva', ['Zoë Duvál']],
  ['zo duval', ['Zoë Duvál']],
  ['DUVAL zoe', ['Zoë Duvál']],
  ['du', ['Zoë Duvál']],
  ['uv', []],
  ['obri', ['Sten O’Brien-Łuk']],
  ['luk', ['Sten O’Brien-Łuk']],
  ['zoe@kiln', ['Zoë Duvál']],
  ['kiln.example', ['Zoë Duvál']],
  ['07911 222333', ['Sten O’Brien-Łuk']],
  ['+44 (0)7911222333', ['Sten O’Brien-Łuk']],
  ['222333', ['Sten O’Brien-Łuk']],
  ['07911 2223', ['Sten O’Brien-Łuk']],
  ['+447911 22', ['Sten O’Brien-Łuk']],
  ['0044 7911', ['Sten O’Brien-Łuk']],
  ['+49 7911 22', ['Sten O’Brien-Łuk']],
  ['79112224', []],
  ['zoe brien', []],
  ['---', []],
])('“%s” finds by words of the name, the address or the phone', async (q, names) => {
  if ((await db.person.count({ where: { name: 'Zoë Duvál' } })) === 0) {
    await add({ name: 'Zoë Duvál', email: 'zoe@kiln.example', phone: null });
    await add({ name: 'Sten O’Brien-Łuk', email: null, phone: '+44 7911 222 333' });
  }
  expect((await listed(`q=${encodeURIComponent(q)}`)).filter((name) => /^Zoë|^Sten/.test(name))).toEqual(names);
});

test('people by name, page by page, whatever their accents and capitals, and after one who is called otherwise meanwhile', async () => {
  for (const name of ['Order Émile', 'order amos', 'Order Zed', 'Order Élan', 'ORDER bo'])
    await add({ name, memberSince: null });
  const sorted = ['order amos', 'ORDER bo', 'Order Élan', 'Order Émile', 'Order Zed'];
  expect(await listed('q=order&order=name')).toEqual(sorted);
  const first = (await owner.get('/api/people?q=order&order=name&limit=2')).json();
  expect(first).toMatchObject({ total: 5, totalIsMinimum: false });
  await db.person.updateMany({ where: { name: 'ORDER bo' }, data: { name: 'Order aaron' } });
  expect(await listed(`q=order&order=name&after=${first.next}`)).toEqual(sorted.slice(2));
  for (const after of ['x', first.items[0].id, Buffer.from('[1,2]').toString('base64url')])
    expect((await owner.get(`/api/people?order=name&after=${after}`)).json()).toMatchObject({
      ...{ status: 422, errors: [{ pointer: '#/after' }], detail: expect.stringContaining('`next`') },
    });
  expect((await owner.get(`/api/people?after=${first.next}`)).statusCode).toBe(422);
});

test('members are told from others', async () => {
  await add({ name: 'Kind One', memberSince: '2025-01-01' });
  await add({ name: 'Kind Two', memberSince: null });
  expect(await listed('q=kind&kind=member')).toEqual(['Kind One']);
  expect(await listed('q=kind&kind=student')).toEqual([]);
  expect(await listed('q=kind&kind=maker')).toEqual([]);
});
