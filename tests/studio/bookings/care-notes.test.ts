import { randomUUID } from 'node:crypto';
import { beforeEach, describe, expect, test } from 'vitest';
import { sqlState } from '../../../src/database/sqlstate.js';
import type { Course } from '../../../src/studio/courses/contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { db, owner, tutor, clock, tutorMember, ownerMember } = await testApp();
const home = await coursesFixture(owner);
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

const NOTE = 'Allergic to latex; uses a wheelchair.';
const address = (personId: string) => `/api/people/${personId}/care-note`;
const note = (personId: string, careNote: string | null) => owner.put(address(personId), { careNote });

let evenings = 0;
/** A course whose first session the tutor teaches, on an evening of its own, since a tutor is in one place. */
async function courseWithNote() {
  const day = `2026-04-${String(14 + ++evenings).padStart(2, '0')}`;
  const { id: roomId } = await made(owner, '/api/rooms', { name: `Care room ${evenings}`, benches: 10 });
  const sessions = [
    { startsAt: `${day}T19:00:00+01:00`, endsAt: `${day}T21:30:00+01:00`, roomId, tutorIds: [tutorMember.id] },
    { startsAt: '2026-05-25T19:00:00+01:00', endsAt: '2026-05-25T21:00:00+01:00', roomId },
  ];
  const course = (await home.addCourse({ sessions })) as Course;
  const booking = await bookingFixture(owner, course.id);
  const { payerId } = booking;
  await payFor(owner, booking, booking.depositMinor);
  expect((await note(payerId, NOTE)).statusCode).toBe(200);
  const notes = async (caller = tutor) => (await caller.get(`/api/courses/${course.id}/care-notes`)).json().notes;
  return { course, booking, payerId, notes, day };
}

/** The tables of the database in which a word is found. */
async function tablesWith(word: string): Promise<string[]> {
  const tables = await db.$queryRaw<{ name: string }[]>`
    SELECT quote_ident(schemaname) || '.' || quote_ident(tablename) AS name FROM pg_tables
     WHERE schemaname NOT IN ('pg_catalog', 'information_schema')`;
  const found: string[] = [];
  for (const { name } of tables) {
    const [row] = await db.$queryRawUnsafe<{ n: number }[]>(
      `SELECT count(*)::int AS n FROM ${name} t WHERE t::text ILIKE '%${word}%'`,
    );
    if (row && row.n > 0) found.push(name);
  }
  return found;
}

describe('a note on health or access', () => {
  test('is seen by owners, and by a tutor at the sessions that they teach, until the day after', async () => {
    const { course, payerId, notes, day } = await courseWithNote();
    const [first, second] = course.sessions;
    const at = (sessionId: string | undefined) => ({ sessionId, personId: payerId, careNote: NOTE });
    expect(await notes(owner)).toEqual([at(first?.id), at(second?.id)]);
    expect(await notes()).toEqual([at(first?.id)]);
    await clock.set(`${day}T22:00:00Z`);
    expect(await notes()).toEqual([at(first?.id)]);
    await clock.set(new Date(Date.parse(`${day}T20:30:01Z`) + 86_400_000).toISOString());
    expect(await notes()).toEqual([]);
    expect(await notes(owner)).toHaveLength(2);
  });

  test('can’t be read or changed by a tutor on a person’s page, nor by a token', async () => {
    const { payerId } = await courseWithNote();
    expect((await tutor.get(address(payerId))).statusCode).toBe(403);
    expect((await tutor.put(address(payerId), { careNote: null })).statusCode).toBe(403);
    const token = (right: string) =>
      owner.post('/api/tokens', { name: 'A script', rights: [right], lastDay: '2026-04-09' });
    expect((await token('people:read')).statusCode).toBe(201);
    for (const right of ['care:read', 'care:write']) expect((await token(right)).statusCode).toBe(422);
  });

  test('is of those who come: who cancelled is not among them, nor is a hold that has run out', async () => {
    const { course, booking, notes } = await courseWithNote();
    const held = await bookingFixture(owner, course.id);
    await note(held.payerId, 'Asthma.');
    expect(await notes()).toHaveLength(2);
    await clock.set('2026-03-13T09:00:00Z');
    expect(await notes()).toHaveLength(1);
    await owner.post(`/api/bookings/${booking.id}/cancellation`, { reason: 'Ill', refundMinor: 0 });
    expect([await notes(), await notes(owner)]).toEqual([[], []]);
  });

  test('is nowhere else: in one table, in no letter and no list', async () => {
    const { course, payerId } = await courseWithNote();
    expect(await tablesWith('latex')).toEqual(['public.care_note']);
    for (const path of [
      ...[`/api/people/${payerId}`, '/api/people?q=latex', '/api/search?q=latex', '/api/today'],
      ...[`/api/courses/${course.id}/register`, `/api/courses/${course.id}/bookings`, '/api/notices'],
    ]) {
      const answer = await owner.get(path);
      expect(answer.statusCode).toBe(200);
      expect(answer.body).not.toContain('latex');
    }
  });

  test('is gone from the database once it is changed or removed; who did it, and when, stays', async () => {
    const { payerId } = await courseWithNote();
    await clock.set('2026-03-11T09:00:00Z');
    await note(payerId, 'Hard of hearing on the left.');
    await clock.set('2026-03-12T09:00:00Z');
    const removed = await note(payerId, null);
    const by = 'Test owner';
    expect(removed.json()).toEqual({
      careNote: null,
      changes: [
        { what: 'added', at: '2026-03-10T09:00:00.000Z', by },
        { what: 'changed', at: '2026-03-11T09:00:00.000Z', by },
        { what: 'removed', at: '2026-03-12T09:00:00.000Z', by },
      ],
    });
    expect(await tablesWith('hard of hearing')).toEqual([]);
    expect(await db.careNote.count({ where: { personId: payerId } })).toBe(0);
    expect((await note(payerId, null)).json().changes).toHaveLength(3); // nothing was there to remove
  });

  test('that is sent twice is noted once, and each time what is there now is told', async () => {
    const { payerId } = await courseWithNote();
    const key = randomUUID();
    const tag = String((await owner.get(address(payerId))).headers.etag);
    const send = () => owner.put(address(payerId), { careNote: 'Asthma.' }, key, { 'if-match': tag });
    const first = await send();
    expect((await send()).json()).toEqual(first.json());
    expect(first.json().changes).toHaveLength(2);
    const kept = await db.requestKey.findMany({ where: { key } });
    expect(kept).toMatchObject([{ answer: null }]);
    const late = await owner.put(address(payerId), { careNote: 'None.' }, randomUUID(), { 'if-match': tag });
    expect(late.statusCode).toBe(412);
  });

  test('is refused where it is empty or too long', async () => {
    const { payerId } = await courseWithNote();
    for (const careNote of ['', '  ', 'a'.repeat(501)]) expect((await note(payerId, careNote)).statusCode).toBe(422);
  });

  test('does not change in the database without an entry of who did it, and entries stay', async () => {
    const { payerId: personId } = await courseWithNote();
    const tried = (work: Promise<unknown>) => work.then(() => 'done', sqlState);
    expect(await tried(db.careNote.update({ where: { personId }, data: { note: 'Else.' } }))).toBe('WB015');
    expect(await tried(db.careNote.delete({ where: { personId } }))).toBe('WB015');
    const other = { id: ownerMember.id };
    const [entry] = await db.careNoteChange.findMany({ where: { personId } });
    const where = { id: entry?.id ?? other.id };
    expect(await tried(db.careNoteChange.delete({ where }))).toBe('WB015');
    expect(await tried(db.careNoteChange.update({ where, data: { what: 'removed' } }))).toBe('WB015');
  });
});
