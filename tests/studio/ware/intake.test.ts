import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Piece } from '../../../src/studio/ware/contract.js';
import { isCode, newCode } from '../../../src/trade/text/ware-code.js';
import { testApp } from '../../support/app.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { materialFixture } from '../../support/fixtures/materials.js';
import { boardFixture, MUG, piecesFixture } from '../../support/fixtures/ware.js';
import { made, personFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
let maker: { id: string; name: string };
beforeAll(async () => {
  home = await coursesFixture(owner);
  maker = await personFixture(owner, 'Ines Duval');
});
const body = (changes: object = {}) => ({
  ...{ makerId: maker.id, courseId: null, firingPaidBy: 'maker', boardId: null, ware: [MUG], ...changes },
});
const codes = (pieces: readonly Piece[]) => pieces.map(({ code }) => code);

describe('intake', () => {
  test('takes in many pieces at once, each with a code and an event, at a likely or a measured size', async () => {
    const [clay, board] = [await materialFixture(owner), await boardFixture(tutor)];
    const size = { widthMm: 300, depthMm: 200, heightMm: 41 };
    const ware = [
      { ...MUG, clayId: clay.id, count: 3 },
      { form: 'pinchPot', size, description: 'Pinch pot', clayId: null },
    ];
    const answer = await tutor.post('/api/pieces', body({ ware, boardId: board.id, stage: 'dry' }));
    expect(answer.statusCode).toBe(201);
    const items: Piece[] = answer.json().items;
    expect(items).toHaveLength(4);
    expect(items[0]).toMatchObject({
      ...{ makerName: 'Ines Duval', form: 'mug', widthMm: 120, depthMm: 88, heightMm: 95, measured: false },
      ...{ clayId: clay.id, boardId: board.id, stage: 'dry', firingPaidBy: 'maker', courseId: null },
    });
    expect(items[3]).toMatchObject({ form: 'pinchPot', ...size, measured: true });
    expect(codes(items).every(isCode)).toBe(true);
    const rows = await db.piece.findMany({ orderBy: { serial: 'asc' }, where: { id: { in: items.map((i) => i.id) } } });
    expect(rows.map((row) => row.code)).toEqual(rows.map((row) => newCode(row.serial)));
    const story = (await tutor.get(`/api/pieces/${items[0]?.id}`)).json();
    expect(story.events).toEqual([
      { at: '2026-03-10T09:00:00.000Z', stage: 'dry', boardName: board.name, note: 'Taken in' },
    ]);
  });

  test('never makes a code twice, however many take in ware at once', async () => {
    const before = await db.piece.count();
    const answers = await Promise.all(
      Array.from({ length: 30 }, () => owner.post('/api/pieces', body({ ware: [{ ...MUG, count: 3 }] }))),
    );
    expect(answers.map((answer) => answer.statusCode)).toEqual(answers.map(() => 201));
    const made = answers.flatMap((answer) => codes(answer.json().items));
    expect(new Set(made).size).toBe(90);
    const { _max } = await db.piece.aggregate({ _max: { serial: true } });
    expect(_max.serial).toBe(before + 90); // running numbers: none is skipped
  });

  test('leaves to the course what is in its price, and to the maker what goes beyond, of each student apart', async () => {
    const plan = await made(owner, '/api/course-plans', { ...planBody(home), firingIncludedLitres: '2.5' });
    const courseId = (await home.addCourse({ planId: plan.id })).id;
    const mugs = async (makerId: string, count: number) =>
      (await piecesFixture(tutor, makerId, { courseId, firingPaidBy: 'course', ware: [{ ...MUG, count }] })).map(
        ({ firingPaidBy }) => firingPaidBy,
      );
    const [one, other] = [await personFixture(owner), await personFixture(owner)];
    // a medium mug takes 126 x 94 x 101 mm of the kiln, gaps included: 1.2 litres, of which two fit into 2.5
    expect(await mugs(one.id, 1)).toEqual(['course']);
    expect(await mugs(one.id, 2)).toEqual(['course', 'maker']);
    expect(await mugs(other.id, 3)).toEqual(['course', 'course', 'maker']);
    const all = (await home.addCourse()).id;
    const pieces = await piecesFixture(tutor, one.id, {
      courseId: all,
      firingPaidBy: 'course',
      ware: [{ ...MUG, count: 9 }],
    });
    expect(pieces.every(({ firingPaidBy }) => firingPaidBy === 'course')).toBe(true);
  });

  test('has one effect, however often it is sent', async () => {
    const before = await db.piece.count();
    const key = randomUUID();
    const answers = await Promise.all(Array.from({ length: 8 }, () => owner.post('/api/pieces', body(), key)));
    expect(new Set(answers.map((answer) => answer.body)).size).toBe(1);
    expect(await db.piece.count()).toBe(before + 1);
  });

  test.each([
    ['no ware', { ware: [] }],
    ['a hundred and one pieces', { ware: [{ ...MUG, count: 100 }, MUG] }],
    ['a course that is to pay and is not named', { firingPaidBy: 'course' }],
    ['a size of nothing', { ware: [{ ...MUG, size: { widthMm: 0, depthMm: 10, heightMm: 10 } }] }],
    ['a size beyond any kiln', { ware: [{ ...MUG, size: { widthMm: 2001, depthMm: 10, heightMm: 10 } }] }],
    ['a form nobody makes', { ware: [{ ...MUG, form: 'teapot' }] }],
    ['fired ware, which only a firing makes', { stage: 'fired' }],
    ['a piece that is called safe for food', { ware: [{ ...MUG, description: 'Food-safe mug' }] }],
    ['one that is called so in other words', { ware: [{ ...MUG, description: 'Mug, safe for food' }] }],
    ['a name that the font lacks', { ware: [{ ...MUG, description: '湯呑み' }] }],
    ['what it does not know', { glaze: 'Moss' }],
  ])('refuses %s and keeps nothing', async (_, changes) => {
    const before = await db.piece.count();
    const answer = await owner.post('/api/pieces', body(changes));
    expect(answer.statusCode).toBe(422);
    expect(answer.json()).toMatchObject({ type: '/problems/invalid-request' });
    expect(await db.piece.count()).toBe(before);
  });

  test('refuses makers, courses, boards and clays that are not there, and glaze for clay', async () => {
    const glaze = await materialFixture(owner, { kind: 'glaze' });
    for (const changes of [
      { makerId: randomUUID() },
      { courseId: randomUUID(), firingPaidBy: 'course' },
      { boardId: randomUUID() },
      { ware: [{ ...MUG, clayId: randomUUID() }] },
    ])
      expect((await owner.post('/api/pieces', body(changes))).json()).toMatchObject({ type: '/problems/not-found' });
    const answer = await owner.post('/api/pieces', body({ ware: [{ ...MUG, clayId: glaze.id }] }));
    expect(answer.json()).toMatchObject({ type: '/problems/invalid-request' });
    expect(answer.json().detail).toContain('is not a clay');
  });
});

describe('finding a piece', () => {
  test('by its code, as people type it', async () => {
    const [piece] = await piecesFixture(owner, maker.id);
    const code = piece?.code ?? '';
    for (const typed of [code, code.toLowerCase(), `${code.slice(0, 2)}-${code.slice(2)}`, ` ${[...code].join(' ')}`]) {
      const answer = await tutor.get(`/api/pieces/by-code/${encodeURIComponent(typed)}`);
      expect(answer.json()).toMatchObject({ id: piece?.id, makerName: 'Ines Duval' });
    }
  });

  test('tells a code that was misread from one that nobody made', async () => {
    const [piece] = await piecesFixture(owner, maker.id);
    const code = piece?.code ?? '';
    const misread = `${code.slice(0, -1)}${code.endsWith('2') ? '3' : '2'}`;
    const wrong = await owner.get(`/api/pieces/by-code/${misread}`);
    expect(wrong.statusCode).toBe(422);
    expect(wrong.json().detail).toContain('check');
    const unknown = await owner.get(`/api/pieces/by-code/${newCode(4000)}`);
    expect(unknown.statusCode).toBe(404);
    expect((await owner.get(`/api/pieces/${randomUUID()}`)).statusCode).toBe(404);
  });

  test('lists by maker, stage and board, a page at a time', async () => {
    const [other, board] = [await personFixture(owner, 'Tom Ashby'), await boardFixture(owner)];
    const onBoard = await piecesFixture(owner, other.id, { boardId: board.id, ware: [{ ...MUG, count: 3 }] });
    await piecesFixture(owner, other.id, { stage: 'dry' });
    const list = async (query: string) => (await tutor.get(`/api/pieces?${query}`)).json();
    expect((await list(`makerId=${other.id}`)).items).toHaveLength(4);
    expect(codes((await list(`makerId=${other.id}&stage=greenware`)).items)).toEqual(codes(onBoard));
    const first = await list(`boardId=${board.id}&limit=2`);
    expect(codes(first.items)).toEqual(codes(onBoard.slice(0, 2)));
    expect(codes((await list(`boardId=${board.id}&limit=2&after=${first.next}`)).items)).toEqual(
      codes(onBoard.slice(2)),
    );
    expect((await tutor.get('/api/pieces?stage=wet')).statusCode).toBe(422);
  });
});
