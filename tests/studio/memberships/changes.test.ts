import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { MembershipChanged, MembershipInFull } from '../../../src/studio/memberships/contract.js';
import { testApp } from '../../support/app.js';
import { kindFixture, membershipFixture } from '../../support/fixtures/memberships.js';
import { made, personFixture, studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor, clock } = await testApp();
let standard: { id: string };
beforeAll(async () => {
  ({ standard } = await studioFixture(owner));
});
beforeEach(() => clock.set('2026-02-05T09:00:00Z'));

const read = async (id: string): Promise<MembershipInFull> => (await owner.get(`/api/memberships/${id}`)).json();
/** Somebody who has been a member since 1 February at £60, and has been charged for it. */
async function member(kind: object = {}, changes: object = {}) {
  const person = await personFixture(owner);
  const { id } = await kindFixture(owner, standard.id, kind);
  return { person, ...(await membershipFixture(owner, person.id, id, '2026-02-01', changes)) };
}
const pay = async ({ personId, months }: MembershipInFull) => {
  const body = { personId, method: 'card', for: [{ chargeId: months[0]?.chargeId, amountMinor: 6000 }] };
  expect((await owner.post('/api/payments', body)).statusCode).toBe(201);
};
const told = async (personId: string) =>
  (await db.notice.findMany({ where: { personId }, orderBy: { id: 'asc' } })).map(({ occasion }) => occasion);
const refusal = (answer: Awaited<ReturnType<typeof owner.post>>) => [
  answer.json().type.replace('/problems/', ''),
  answer.json().detail,
];

describe('a pause', () => {
  test('takes off what its days come to in a month that is charged, as the kind says, seen first', async () => {
    const { id, person } = await member({ pausePercent: '25' });
    const wish = { from: '2026-02-10', to: '2026-02-24' };
    const seen = (await owner.post(`/api/memberships/${id}/pauses/preview`, wish)).json();
    // 13 days in full and 15 at a quarter, of 28: 6000 × 16.75 / 28 = 3589.28…, so 2411 comes off
    expect(seen.outcome).toMatchObject({ creditedMinor: 2411, refundMinor: 0 });
    expect(seen.letters[0].text.replace(/\s+/g, ' ')).toContain(
      'paused from 10 February 2026 to 24 February 2026. For these days you pay 25% of the fee',
    );
    expect((await read(id)).pauses).toEqual([]);
    const { membership }: MembershipChanged = (await owner.post(`/api/memberships/${id}/pauses`, wish)).json();
    expect(membership).toMatchObject({
      ...{ state: 'current', owedMinor: 3589, pauses: [{ from: '2026-02-10', to: '2026-02-24' }] },
      months: [{ month: '2026-02-01', fullDays: 13, pausedDays: 15, amountMinor: 3589, creditedMinor: 2411 }],
    });
    await clock.set('2026-02-12T09:00:00Z');
    expect(await read(id)).toMatchObject({ state: 'paused', pausedUntil: '2026-02-24' });
    expect(await told(person.id)).toEqual(['membershipStarted', 'membershipPaused']);
  });

  test('pays back what was paid too much, by the way that is named', async () => {
    const started = await member();
    await pay(started);
    const wish = { from: '2026-02-15', to: '2026-02-28' };
    const path = `/api/memberships/${started.id}/pauses`;
    expect((await owner.post(path, wish)).json().errors[0].pointer).toBe('#/method');
    const done = (await owner.post(path, { ...wish, method: 'card' })).json();
    expect(done).toMatchObject({ creditedMinor: 3000, refundMinor: 3000 });
    expect(done.membership.months[0]).toMatchObject({ amountMinor: 3000, owedMinor: 0 });
    expect(await told(started.personId)).toEqual(['membershipStarted', 'receipt', 'refund', 'membershipPaused']);
  });

  test('is within the membership, overlaps no other, and ends sooner where no month was charged by it', async () => {
    const { id } = await member();
    const pause = (from: string, to: string) => owner.post(`/api/memberships/${id}/pauses`, { from, to });
    expect(refusal(await pause('2026-01-20', '2026-02-10'))[0]).toBe('outside-membership');
    const { membership }: MembershipChanged = (await pause('2026-03-01', '2026-04-30')).json();
    expect(refusal(await pause('2026-04-30', '2026-05-10'))).toEqual([
      'already-there',
      'It is paused from 1 March 2026 to 30 April 2026 already. Choose days before or after that.',
    ]);
    const end = (to: string | null) =>
      owner.post(`/api/memberships/${id}/pauses/${membership.pauses[0]?.id}/end`, { to });
    expect((await end('2026-05-01')).json().errors[0].pointer).toBe('#/to');
    expect((await end('2026-03-31')).json().membership.pauses).toMatchObject([{ to: '2026-03-31' }]);
    await clock.set('2026-03-10T09:00:00Z');
    await owner.post(`/api/memberships/${id}/pauses/preview`, { from: '2026-06-01', to: '2026-06-30' });
    await (await import('../../../src/studio/memberships/jobs.js')).chargeMemberships(db, clock.now());
    expect((await read(id)).months.map(({ amountMinor }) => amountMinor)).toEqual([0, 6000]);
    expect(refusal(await end('2026-03-15'))[0]).toBe('month-charged'); // March came to nothing, and would not any more
    expect((await read(id)).pauses).toMatchObject([{ to: '2026-03-31' }]);
  });
});

describe('notice', () => {
  test('ends it on the day that its terms say, later, or sooner with a reason', async () => {
    const { id, person } = await member();
    expect((await read(id)).lastDayIfToday).toBe('2026-03-05');
    const give = (body: object) => owner.post(`/api/memberships/${id}/notice`, body);
    expect(refusal(await give({ lastDay: '2026-02-20' }))).toEqual([
      'notice-too-short',
      'By its terms the last day is 5 March 2026. Choose that day, or write why it ends sooner.',
    ]);
    expect((await give({ lastDay: '2026-02-04', reason: 'Moves away' })).json().errors[0].pointer).toBe('#/lastDay');
    const { membership }: MembershipChanged = (await give({})).json();
    expect(membership).toMatchObject({ state: 'noticeGiven', endsOn: '2026-03-05' });
    expect(membership.next).toEqual({ month: '2026-03-01', on: '2026-03-01', amountMinor: 968 }); // 6000 × 5 / 31 = 967.7…
    expect(refusal(await give({}))[0]).toBe('membership-over');
    expect((await owner.post(`/api/memberships/${id}/notice/withdrawal`)).json().state).toBe('current');
    const sooner = (await give({ lastDay: '2026-02-14', reason: 'Moves away' })).json();
    expect(sooner).toMatchObject({ creditedMinor: 3000, refundMinor: 0, membership: { endsOn: '2026-02-14' } });
    // February is charged by 14 days, so it can't go on without a gap in what is charged
    expect(refusal(await owner.post(`/api/memberships/${id}/notice/withdrawal`))[0]).toBe('month-charged');
    await clock.set('2026-02-15T09:00:00Z');
    expect((await read(id)).state).toBe('ended');
    expect(refusal(await give({}))[0]).toBe('membership-over');
    expect(await told(person.id)).toEqual([
      ...['membershipStarted', 'membershipEnds', 'membershipGoesOn', 'membershipEnds'],
    ]);
    expect((await read(id)).events.map(({ what, by }) => [what, by])[0]).toEqual([
      ...['Notice: ends on 14 February 2026 (Moves away)', 'Test owner'],
    ]);
    const again = await membershipFixture(owner, person.id, (await read(id)).kindId, '2026-02-15');
    expect(again.months[0]).toMatchObject({ fullDays: 14, amountMinor: 3000 });
  });

  test('in days counts days', async () => {
    const { id } = await member({ noticeMonths: null, noticeDays: 14 });
    expect((await read(id)).lastDayIfToday).toBe('2026-02-19');
  });
});

test('somebody has one membership at a time; the next starts after it, and what was not charged can be cancelled', async () => {
  const { person, id, kindId } = await member();
  const start = (startsOn: string) => owner.post(`/api/people/${person.id}/memberships`, { kindId, startsOn });
  expect(refusal(await start('2026-06-01'))[0]).toBe('already-member');
  await owner.post(`/api/memberships/${id}/notice`, {});
  expect(refusal(await start('2026-03-05'))[1]).toContain('ends on 5 March 2026. Start this one after that day.');
  const next: MembershipInFull = (await start('2026-03-06')).json();
  expect(next).toMatchObject({ state: 'coming', months: [], next: { on: '2026-03-06', amountMinor: 5032 } }); // 6000 × 26 / 31
  expect(refusal(await owner.post(`/api/memberships/${id}/notice/withdrawal`))[0]).toBe('already-member');
  const cancel = (of: string) => owner.post(`/api/memberships/${of}/withdrawal`, { reason: 'Thought better of it' });
  expect(refusal(await cancel(id))[0]).toBe('month-charged');
  expect((await cancel(next.id)).json()).toMatchObject({ state: 'withdrawn', next: null });
  expect((await owner.post(`/api/memberships/${id}/notice/withdrawal`)).json().state).toBe('current');
  const list = async (which: string) =>
    (await owner.get(`/api/memberships?personId=${person.id}&which=${which}`))
      .json()
      .items.map((m: { id: string }) => m.id);
  expect([await list('open'), await list('ended')]).toEqual([[id], [next.id]]);
  expect((await list('all')).length).toBe(2);
});

describe('a new fee', () => {
  test('is for who joins from a day on, and reaches members with the notice that the kind states, by letter', async () => {
    const { id, kindId, person } = await member();
    const add = (body: object) => owner.post(`/api/membership-kinds/${kindId}/fees`, { feeMinor: 6600, ...body });
    expect(refusal(await add({ validFrom: '2026-02-05', membersFrom: '2026-03-01' }))).toEqual([
      'notice-too-short',
      'Members hear of a new fee 30 days before. Told today, they pay it from 1 April 2026.',
    ]);
    expect((await add({ validFrom: '2026-02-04', membersFrom: null })).json().errors[0].pointer).toBe('#/validFrom');
    expect((await add({ validFrom: '2026-02-05', membersFrom: '2026-04-02' })).json().errors[0].pointer).toBe(
      '#/membersFrom',
    );
    const done = (await add({ validFrom: '2026-02-10', membersFrom: '2026-04-01' })).json();
    expect(done).toMatchObject({ told: 1, kind: { feeMinor: 6000, fees: [{ feeMinor: 6000 }, { feeMinor: 6600 }] } });
    const letter = await db.notice.findFirstOrThrow({ where: { personId: person.id, occasion: 'membershipFee' } });
    const { text } = (await owner.get(`/api/notices/${letter.id}`)).json();
    expect(text.replace(/\s+/g, ' ')).toContain('From 1 April 2026 your membership, ');
    expect(text.replace(/\s+/g, ' ')).toContain('costs £66 a month instead of £60.');
    expect(text.replace(/\s+/g, ' ')).toContain('Given today, your last day would be 5 March 2026.');
    const other = await personFixture(owner);
    expect(await membershipFixture(owner, other.id, kindId, '2026-02-09')).toMatchObject({ feeMinor: 6000 });
    const third = await personFixture(owner);
    expect(await membershipFixture(owner, third.id, kindId, '2026-02-10')).toMatchObject({ feeMinor: 6600 });
    await clock.set('2026-04-01T09:00:00Z');
    expect((await read(id)).feeMinor).toBe(6600);
    expect((await read(id)).next).toMatchObject({ amountMinor: 6000, month: '2026-03-01' });
  });

  test('can leave members at theirs, and a kind that changes leaves them what they agreed', async () => {
    const { id, kindId } = await member({ benchMinutes: 600 });
    const kept = await owner.post(`/api/membership-kinds/${kindId}/fees`, {
      ...{ feeMinor: 9000, validFrom: '2026-02-05', membersFrom: null },
    });
    expect(kept.json()).toMatchObject({ told: 0, kind: { feeMinor: 9000, members: 1 } });
    const {
      id: _,
      fees: __,
      taxName: ___,
      clayName: ____,
      ...kind
    } = (await owner.get(`/api/membership-kinds/${kindId}`)).json();
    const changed = await owner.put(`/api/membership-kinds/${kindId}`, { ...kind, benchMinutes: 60 });
    expect(changed.statusCode).toBe(200);
    expect(await read(id)).toMatchObject({ feeMinor: 6000, included: { benchMinutes: 600 } });
    expect(refusal(await owner.post(`/api/membership-kinds/${kindId}/removal`))[0]).toBe('still-needed');
  });

  test('of a kind says what is wrong with it', async () => {
    const wrong = async (changes: object) => {
      const answer = await owner.post('/api/membership-kinds', {
        ...{ name: 'X', taxRateId: standard.id, feeMinor: 6000, noticeMonths: 1, noticeDays: null, feeNoticeDays: 30 },
        ...{ pausePercent: '0', benchMinutes: 0, firingLitres: '0', clayId: null, clayGrams: 0 },
        ...{ hasShelf: false, writesLetters: false, ...changes },
      });
      return answer.json().errors?.[0];
    };
    expect(await wrong({ noticeDays: 3 })).toEqual({
      pointer: '#/noticeDays',
      detail: 'is given either in months or in days',
    });
    expect(await wrong({ noticeMonths: null })).toMatchObject({ pointer: '#/noticeDays' });
    expect(await wrong({ clayGrams: 5 })).toMatchObject({ pointer: '#/clayGrams' });
    expect(await wrong({ firingLitres: '1.234' })).toMatchObject({ pointer: '#/firingLitres' });
    expect(await wrong({ pausePercent: '101' })).toMatchObject({ pointer: '#/pausePercent' });
    expect(await wrong({ feeMinor: 0 })).toMatchObject({ pointer: '#/feeMinor' });
  });
});

describe('a shelf', () => {
  test('is given to one member at a time, where the kind includes one', async () => {
    const shelf = await made<{ id: string }>(owner, '/api/boards', { name: 'Members 4', kind: 'shelf' });
    const board = await made<{ id: string }>(owner, '/api/boards', { name: 'Board 9', kind: 'wareBoard' });
    const one = await member({ hasShelf: true }, { boardId: shelf.id });
    expect(one.shelf).toEqual({ boardId: shelf.id, name: 'Members 4' });
    const other = await member({ hasShelf: true });
    const none = await member();
    const give = (id: string, boardId: string | null) => owner.post(`/api/memberships/${id}/shelf`, { boardId });
    expect(refusal(await give(other.id, shelf.id))).toEqual([
      'shelf-taken',
      `${one.personName} has "Members 4". Choose another shelf.`,
    ]);
    expect((await give(other.id, board.id)).json().errors[0].pointer).toBe('#/boardId');
    expect((await give(none.id, shelf.id)).json().detail).toContain('includes no shelf');
    await expect(db.membership.update({ where: { id: other.id }, data: { boardId: shelf.id } })).rejects.toThrow(
      /23P01|exclusion/,
    );
    await owner.post(`/api/memberships/${one.id}/notice`, { lastDay: '2026-02-10', reason: 'Moves' });
    expect(refusal(await give(other.id, shelf.id))[0]).toBe('shelf-taken'); // until its last day
    await give(one.id, null);
    expect((await give(other.id, shelf.id)).json().shelf.name).toBe('Members 4');
    expect(refusal(await owner.post(`/api/boards/${shelf.id}/removal`))[0]).toBe('still-needed');
  });
});

test('a tutor sees no fees, and none of it is theirs to change', async () => {
  const { id, kindId, personId } = await member();
  expect((await tutor.get('/api/memberships')).statusCode).toBe(403);
  expect((await tutor.get(`/api/memberships/${id}`)).statusCode).toBe(403);
  expect((await tutor.post(`/api/people/${personId}/memberships`, { kindId, startsOn: '2026-02-05' })).statusCode).toBe(
    403,
  );
});

test('what starting would cost is seen first, with its letter, and nothing is kept of it', async () => {
  const person = await personFixture(owner);
  const kind = await kindFixture(owner, standard.id, { benchMinutes: 600, firingLitres: '20', hasShelf: true });
  const seen = (
    await owner.post(`/api/people/${person.id}/memberships/preview`, { kindId: kind.id, startsOn: '2026-02-05' })
  ).json();
  expect(seen.outcome).toMatchObject({ state: 'current', months: [{ fullDays: 24, amountMinor: 5143 }] }); // 6000 × 24 / 28
  expect(seen.letters[0].text).toContain('10 hours at a bench of open studio\n  20 litres of room in the kiln');
  expect(await db.membership.count({ where: { personId: person.id } })).toBe(0);
});
