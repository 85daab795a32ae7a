import { beforeEach, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { personFixture } from '../../support/fixtures.js';

const { db, owner, tutor, clock } = await testApp();
const home = await coursesFixture(owner);
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

const address = (id: string) => `/api/courses/${id}/particulars`;

describe('what a course is called and offers', () => {
  test('is changed, and each change is in its history', async () => {
    const course = await home.addCourse();
    const wanted = { title: 'Two large mugs', places: 10, minimum: 3, decideOn: '2026-04-06', note: 'Bring an apron.' };
    const answer = await owner.put(address(course.id), wanted);
    expect([answer.statusCode, answer.json()]).toEqual([200, wanted]);
    const { items } = (await tutor.get(`/api/courses/${course.id}/changes`)).json();
    expect(items.map(({ what }: { what: string }) => what)).toEqual([
      'Title: "Two mugs" is now "Two large mugs".',
      'Places: 10, before 8.',
      'Minimum: 3, before 4.',
      'To be decided by 6 April 2026.',
      'Note for students: Bring an apron.',
    ]);
    expect(items[0]).toMatchObject({ madeBy: 'Test owner', at: '2026-03-10T09:00:00.000Z' });
    const shown = (await tutor.get(`/api/courses/${course.id}/dates`)).json();
    expect(shown.sessions.map(({ benches }: { benches: number }) => benches)).toEqual([10, 10]);
    expect((await owner.put(address(course.id), { ...wanted, note: null })).json().note).toBeNull();
  });

  test('is decided before the course begins', async () => {
    const course = await home.addCourse();
    const wanted = { title: 'Two mugs', places: 8, minimum: 4, decideOn: '2026-04-15', note: null };
    const late = await owner.put(address(course.id), wanted);
    expect([late.statusCode, late.json().errors[0].pointer]).toEqual([422, '/decideOn']);
    expect(late.json().detail).toBe(
      'It must be decided before the course begins, on 14 April 2026. Give that day or an earlier one.',
    );
    expect((await owner.put(address(course.id), { ...wanted, decideOn: '2100-01-01' })).statusCode).toBe(422);
    expect((await owner.put(address(course.id), { ...wanted, decideOn: '2026-04-14' })).statusCode).toBe(200);
  });

  test('the note for students is in the letter of a booking', async () => {
    const course = await home.addCourse();
    await owner.put(address(course.id), {
      title: 'Two mugs',
      places: 8,
      minimum: 4,
      decideOn: null,
      note: 'Bring an apron.',
    });
    const { id } = await personFixture(owner, 'Ines Duval');
    const wish = { payerId: id, attendeeIds: [id] };
    const seen = await owner.post(`/api/courses/${course.id}/bookings/preview`, wish);
    expect(seen.json().letters[0].text).toContain('Bring an apron.');
  });

  test('never has fewer places than are taken, in the database neither', async () => {
    const course = await home.addCourse();
    await bookingFixture(owner, course.id, 5);
    const wanted = { title: 'Two mugs', places: 4, minimum: 4, decideOn: null, note: null };
    const answer = await owner.put(address(course.id), wanted);
    expect([answer.statusCode, answer.json().detail]).toEqual([
      409,
      '5 places of "Two mugs" are booked or held. Give at least 5 places, or cancel a booking first.',
    ]);
    await expect(db.course.update({ where: { id: course.id }, data: { places: 4 } })).rejects.toThrow(/WB002/);
    expect((await owner.put(address(course.id), { ...wanted, places: 5 })).statusCode).toBe(200);
  });

  test('never needs more benches than its room has, nor a minimum above its places', async () => {
    const room = (await owner.get('/api/rooms')).json().items.find(({ id }: { id: string }) => id === home.room.id);
    const course = await home.addCourse({ sessions: home.body.sessions });
    const wanted = { title: 'Two mugs', places: room.benches + 1, minimum: 4, decideOn: null, note: null };
    expect((await owner.put(address(course.id), wanted)).json().type).toBe('/problems/room-full');
    expect((await owner.put(address(course.id), { ...wanted, places: 3 })).statusCode).toBe(422);
    expect((await owner.put(address(course.id), { ...wanted, places: 8, minimum: 0 })).json().detail).toBe(
      'A course needs a minimum number of students. Give 1 or more.',
    );
  });

  test('is not written over what somebody else changed, and not by a tutor', async () => {
    const course = await home.addCourse();
    const wanted = { title: 'Bowls', places: 8, minimum: 4, decideOn: null, note: null };
    const etag = String((await owner.get(address(course.id))).headers.etag);
    expect((await owner.put(address(course.id), wanted, undefined, { 'if-match': etag })).statusCode).toBe(200);
    const late = await owner.put(address(course.id), { ...wanted, title: 'Jars' }, undefined, { 'if-match': etag });
    expect(late.statusCode).toBe(412);
    expect((await tutor.put(address(course.id), wanted)).statusCode).toBe(403);
  });

  test('stays in the history as it was', async () => {
    const course = await home.addCourse();
    await owner.put(address(course.id), { title: 'Bowls', places: 8, minimum: 4, decideOn: null, note: null });
    await expect(db.courseChange.deleteMany({ where: { courseId: course.id } })).rejects.toThrow(/WB015/);
  });
});
