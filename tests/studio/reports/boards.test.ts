import { beforeAll, expect, test } from 'vitest';
import type { Today, TodayBoard } from '../../../src/studio/reports/contract.js';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture, step } from '../../support/fixtures/firings.js';
import { kilnFixture } from '../../support/fixtures/kilns.js';
import { MUG, noted, piecesFixture } from '../../support/fixtures/ware.js';
import { made, personFixture } from '../../support/fixtures.js';

const { db, owner, clock, tutor } = await testApp();
const home = await coursesFixture(owner);

const today = async (at?: string): Promise<Today> => {
  if (at) await clock.set(at);
  const answer = await owner.get('/api/today');
  if (answer.statusCode !== 200) throw new Error(answer.body);
  return answer.json();
};
const boardOf = ({ boards }: Today, waiting: TodayBoard['waiting']) => {
  const board = boards.find((one) => one.waiting === waiting);
  if (!board) throw new Error(`no board ${waiting}`);
  return board;
};
const codes = (board: TodayBoard) => board.pieces.map(({ code }) => code);
const only = <T>([one]: readonly T[]): T => {
  if (!one) throw new Error('none');
  return one;
};

const maker = await personFixture(owner, 'Ada Finch');
const piecesAt = async (at: string, changes: Parameters<typeof piecesFixture>[2] = {}) => {
  await clock.set(at);
  return piecesFixture(owner, maker.id, changes);
};
/** In a kiln of its own. */
const glazeFiring = async (changes: object = {}) =>
  firingFixture(owner, { kilnId: (await kilnFixture(owner)).id, scheduleId: home.stoneware.id }, changes);

beforeAll(() => clock.set('2026-03-10T09:00:00Z'));

test('each piece stands on the board of what it waits for, the longest first', async () => {
  const wet = await piecesAt('2026-03-01T12:00:00Z');
  const dry = await piecesAt('2026-02-20T12:00:00Z', { ware: [{ ...MUG, count: 2 }] });
  await clock.set('2026-03-02T23:30:00Z');
  await noted(owner, dry.slice(0, 1), 'dry');
  await clock.set('2026-03-03T00:30:00Z');
  await noted(owner, dry.slice(1), 'dry');
  const bisque = await piecesAt('2026-03-05T12:00:00Z', { stage: 'bisque' });
  const glazed = await piecesAt('2026-03-06T12:00:00Z', { stage: 'glazed' });
  const [gone, broken] = await piecesAt('2026-03-06T12:00:00Z', { ware: [{ ...MUG, count: 2 }] });
  if (!gone || !broken) throw new Error('no ware');
  await noted(owner, [gone, broken], 'broken');

  const now = await today('2026-03-10T09:00:00Z');
  expect(now.boards.map(({ waiting, inAll, pieces }) => [waiting, inAll, pieces.length])).toEqual([
    ...[
      ['drying', 1, 1],
      ['bisque', 2, 2],
      ['glazing', 1, 1],
      ['glaze', 1, 1],
      ['sorting', 0, 0],
      ['collection', 0, 0],
    ],
  ]);
  expect(only(boardOf(now, 'drying').pieces)).toEqual({
    ...{ pieceId: wet[0]?.id, code: wet[0]?.code, makerId: maker.id, maker: 'Ada Finch' },
    ...{ description: 'Mug with a thumb rest', form: 'mug', widthMm: 120, depthMm: 88, heightMm: 95, glazed: false },
    ...{ since: '2026-03-01', days: 9, late: false, firingNumber: null },
  });
  const board = boardOf(now, 'bisque');
  expect(board.pieces.map(({ code, since, days }) => [code, since, days])).toEqual([
    [dry[0]?.code, '2026-03-02', 8],
    [dry[1]?.code, '2026-03-03', 7],
  ]);
  expect(only(boardOf(now, 'glazing').pieces)).toMatchObject({ code: bisque[0]?.code, glazed: false });
  expect(only(boardOf(now, 'glaze').pieces)).toMatchObject({ code: glazed[0]?.code, glazed: true });
});

test('to move a piece, or to note something of it, starts no new wait; another stage does', async () => {
  const [piece] = await piecesAt('2026-02-01T12:00:00Z');
  if (!piece) throw new Error('no ware');
  await clock.set('2026-02-09T12:00:00Z');
  await owner.post('/api/pieces/stage', { pieceIds: [piece.id], stage: 'greenware', note: 'Turned over' });
  const find = ({ boards }: Today) => boards.flatMap(({ pieces }) => pieces).find(({ code }) => code === piece.code);
  expect(find(await today())).toMatchObject({ since: '2026-02-01', days: 8 });
  await noted(owner, [piece], 'dry');
  expect(find(await today('2026-02-10T12:00:00Z'))).toMatchObject({ since: '2026-02-09', days: 1 });
});

test('ware is late after six weeks, and what is ready after the days for which it is kept', async () => {
  const [piece] = await piecesAt('2026-03-10T23:30:00Z', { stage: 'bisque' });
  const lateness = async (at: string) =>
    boardOf(await today(at), 'glazing').pieces.find(({ code }) => code === piece?.code);
  expect(await lateness('2026-04-21T22:30:00Z')).toMatchObject({ days: 42, late: false }); // 23:30, summer time by now
  expect(await lateness('2026-04-21T23:30:00Z')).toMatchObject({ days: 43, late: true });

  const [mug] = await piecesAt('2026-03-08T12:00:00Z', { stage: 'glazed' });
  if (!mug) throw new Error('no ware');
  await clock.set('2026-03-10T09:00:00Z');
  await firedFixture(owner, (await glazeFiring()).id, [mug]);
  const sorting = await today('2026-06-30T09:00:00Z');
  expect(only(boardOf(sorting, 'sorting').pieces)).toMatchObject({
    since: '2026-03-09',
    days: 113,
    late: false,
    glazed: true,
  });
  expect(sorting.collection).toEqual({ makers: 0, told: 0, longestDays: null });
  await clock.set('2026-03-10T09:00:00Z');
  await noted(owner, [mug], 'ready');
  const kept = await today('2026-04-07T09:00:00Z');
  expect(only(boardOf(kept, 'collection').pieces)).toMatchObject({ since: '2026-03-10', days: 28, late: false });
  expect(only(boardOf(await today('2026-04-08T09:00:00Z'), 'collection').pieces)).toMatchObject({
    days: 29,
    late: true,
  });
  await noted(owner, [mug], 'collected');
  expect(boardOf(await today(), 'collection').inAll).toBe(0);
});

test('whose ware is ready and who was told of all of it', async () => {
  await clock.set('2026-03-10T09:00:00Z');
  const [tom, eve] = [await personFixture(owner, 'Tom Ashby'), await personFixture(owner, 'Eve Lund')];
  const toms = await piecesFixture(owner, tom.id, { stage: 'glazed', ware: [{ ...MUG, count: 3 }] });
  const eves = await piecesFixture(owner, eve.id, { stage: 'glazed' });
  await firedFixture(owner, (await glazeFiring()).id, [...toms, ...eves]);
  await noted(owner, toms.slice(0, 2), 'ready');
  await clock.set('2026-03-14T09:00:00Z');
  await noted(owner, eves, 'ready');
  expect((await today()).collection).toEqual({ makers: 2, told: 0, longestDays: 4 });
  await owner.post('/api/collection-notices', { personId: tom.id });
  expect((await today()).collection).toEqual({ makers: 2, told: 1, longestDays: 4 });
  await noted(owner, toms.slice(2), 'ready'); // another piece, of which he knows nothing
  expect((await today()).collection).toEqual({ makers: 2, told: 0, longestDays: 4 });
  await owner.post('/api/collection-notices', {});
  expect((await today('2026-03-15T09:00:00Z')).collection).toEqual({ makers: 2, told: 2, longestDays: 5 });

  const refire = await glazeFiring({ plannedFrom: '2026-03-20T08:00:00Z', plannedTo: '2026-03-21T08:00:00Z' });
  await step(owner, refire.id, 'loading', { placements: toms.map(({ id }) => ({ pieceId: id, layer: 1 })) });
  const loaded = await today();
  expect(loaded.collection).toEqual({ makers: 1, told: 1, longestDays: 1 }); // nobody can collect out of a load
  expect(boardOf(loaded, 'collection').pieces.map(({ firingNumber }) => firingNumber)).toEqual([
    ...[refire.number, refire.number, refire.number, null],
  ]);
  await step(owner, refire.id, 'start', { startedAt: '2026-03-15T08:30:00Z' });
  expect(codes(boardOf(await today(), 'collection'))).toEqual([eves[0]?.code]); // what is in the fire stands on no board
  await step(owner, refire.id, 'unloading', {
    ...{ endedAt: '2026-03-15T08:45:00Z', unloadedAt: '2026-03-15T09:00:00Z' },
    outcomes: toms.map(({ id }) => ({ pieceId: id, outcome: 'good' })),
  });
  await noted(owner, toms, 'ready');
  expect((await today()).collection).toEqual({ makers: 2, told: 1, longestDays: 1 }); // ready anew: to be told anew
  await noted(owner, [...toms, ...eves], 'collected');
});

test('next: the planned firing that takes it, or the first glazing session to which one of its makers comes', async () => {
  await clock.set('2026-03-10T09:00:00Z');
  const [nina, otto] = [await personFixture(owner, 'Nina Holt'), await personFixture(owner, 'Otto Reed')];
  await piecesFixture(owner, nina.id, { stage: 'bisque' });
  const nexts = async (at?: string) => (await today(at)).boards.map(({ next }) => next);
  expect(await nexts()).toEqual([null, null, null, null, null, null]);

  const sessionsOn = (day: string, next: string) => [
    { startsAt: `${day}T18:00:00Z`, endsAt: `${day}T20:00:00Z`, roomId: home.room.id, benches: 2 },
    { startsAt: `${next}T18:00:00Z`, endsAt: `${next}T20:00:00Z`, roomId: home.room.id, benches: 2 },
  ];
  const small = { places: 2, minimum: 1, depositMinor: 0 };
  const early = await home.addCourse({ ...small, sessions: sessionsOn('2026-03-17', '2026-03-24') });
  const late = await home.addCourse({ ...small, sessions: sessionsOn('2026-03-18', '2026-03-31') });
  const book = (courseId: string, personId: string) =>
    made<{ id: string }>(owner, `/api/courses/${courseId}/bookings`, { payerId: personId, attendeeIds: [personId] });
  await book(early.id, otto.id); // none of his ware waits to be glazed
  await book(late.id, nina.id);
  const cancelled = await book(early.id, nina.id);
  expect((await nexts())[2]).toBe('2026-03-24T18:00:00.000Z');
  await owner.post(`/api/bookings/${cancelled.id}/cancellation`, { reason: 'Ill' });
  expect((await nexts())[2]).toBe('2026-03-31T18:00:00.000Z');

  const plan = (scheduleId: string, day: string) =>
    firingFixture(
      owner,
      { kilnId: home.kiln.id, scheduleId },
      { plannedFrom: `${day}T08:00:00Z`, plannedTo: `${day}T20:00:00Z` },
    );
  await plan(home.bisque.id, '2026-03-26');
  await plan(home.bisque.id, '2026-03-25');
  await plan(home.stoneware.id, '2026-03-27');
  const [bisque, glazing, glaze] = ['2026-03-25T08:00:00.000Z', '2026-03-31T18:00:00.000Z', '2026-03-27T08:00:00.000Z'];
  expect(await nexts()).toEqual([bisque, bisque, glazing, glaze, null, null]);
  expect((await nexts('2026-03-31T20:00:00Z'))[2]).toBe(null); // it is over
});

test('at most sixty are drawn, and all are counted; a tutor sees the same', async () => {
  await noted(owner, await db.piece.findMany({ where: { stage: { notIn: ['broken', 'collected'] } } }), 'broken');
  const makers = await personFixture(owner, 'Rae Holm');
  await clock.set('2026-03-10T09:00:00Z');
  await piecesFixture(owner, makers.id, { ware: [{ ...MUG, count: 60 }] });
  const [last] = await piecesAt('2026-03-11T09:00:00Z');
  const now = await today('2026-03-12T09:00:00Z');
  const board = boardOf(now, 'drying');
  expect([board.inAll, board.pieces.length, codes(board).includes(last?.code ?? '')]).toEqual([61, 60, false]);
  expect((await tutor.get('/api/today')).json()).toEqual({
    ...{ ...now, debts: null, refundsDue: null, mail: null },
    firings: now.firings.filter((firing) => firing.do !== 'settle'), // what it cost is the owner's to reckon
  });
  const later = boardOf(await today('2026-04-22T12:00:00Z'), 'drying'); // six weeks: of those drawn all, and the last is not yet
  expect([board.lateInAll, later.lateInAll]).toEqual([0, 60]);
  expect(boardOf(await today('2026-04-23T12:00:00Z'), 'drying').lateInAll).toBe(61); // more than are drawn
});
