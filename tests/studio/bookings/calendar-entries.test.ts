import { simpleParser } from 'mailparser';
import ical, { type VEvent } from 'node-ical';
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Post } from '../../../src/mail/post.js';
import { MailNotSent, type MailTransport } from '../../../src/mail/transport.js';
import { encloseInvitations } from '../../../src/studio/bookings/calendar-entries/enclose.js';
import { invitationFile } from '../../../src/studio/bookings/calendar-entries/invitation.js';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { Course } from '../../../src/studio/courses/contract.js';
import { noticeTasks } from '../../../src/studio/notices/jobs.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

// Read back by node-ical, a project apart from the one that writes them, and by mailparser.

const { db, owner, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
beforeEach(async () => {
  await clock.set('2026-03-10T09:00:00Z');
  sent.length = 0;
});

type Invitation = { to: string; method: string; event: VEvent; text: string };
const sent: Invitation[] = [];
const transport: MailTransport = {
  async send({ to, bytes }) {
    const { attachments } = await simpleParser(bytes);
    for (const { content, contentType, filename } of attachments.filter((one) => one.contentType === 'text/calendar')) {
      expect([contentType, filename]).toEqual([
        'text/calendar',
        expect.stringMatching(/^[\d-]+(-cancelled)?-\d\.ics$/),
      ]);
      const text = content.toString('utf8');
      const method = /^METHOD:(\w+)\r$/m.exec(text)?.[1] ?? '';
      expect(bytes.toString('utf8')).toContain(`method=${method}`); // RFC 6047 (2.4): the part says it too
      const events = Object.values(ical.sync.parseICS(text)).filter((part): part is VEvent => part?.type === 'VEVENT');
      expect(events).toHaveLength(1); // RFC 5546 (3.2.2): one UID in each
      sent.push({ to, method, event: events[0] as VEvent, text });
    }
    return { where: 'sent' };
  },
};
const post = (changes: Partial<Post> = {}): Post => ({
  ...{ db, now: clock.now, transport, writesFiles: false, from: undefined, enclose: [encloseInvitations] },
  ...changes,
});
/** What the worker does with all that waits. @returns what was new in calendars */
async function deliver(through = post()): Promise<Invitation[]> {
  sent.length = 0;
  const waiting = await db.notice.findMany({ where: { state: { in: ['waiting', 'failed'] } }, orderBy: { id: 'asc' } });
  for (const { id } of waiting)
    await noticeTasks(through)
      ['deliver-notice']({ noticeId: id })
      .catch(() => undefined);
  return [...sent];
}
let people = 0;
async function confirmed(course: Course, places = 1): Promise<Booking> {
  const booking = await bookingFixture(owner, course.id, places);
  for (const { personId } of booking.attendees)
    await db.person.update({ where: { id: personId }, data: { email: `person${++people}@example.org` } });
  await payFor(owner, booking, booking.depositMinor);
  return booking;
}
const told = (all: Invitation[]) =>
  all.map(({ method, event }) => [method, event.summary, event.start?.toISOString(), Number(event.sequence)]);

describe('somebody’s own calendar', () => {
  test('has each session of a place once it is confirmed, and nothing before', async () => {
    const course = await home.addCourse({ title: 'Bowls' });
    const booking = await bookingFixture(owner, course.id);
    await db.person.update({ where: { id: booking.payerId }, data: { email: 'ana@example.org' } });
    expect(await deliver()).toEqual([]);
    await payFor(owner, booking, booking.depositMinor);
    const all = await deliver();
    expect(told(all)).toEqual([
      ['REQUEST', 'Bowls (1 of 2)', '2026-04-14T18:00:00.000Z', 0],
      ['REQUEST', 'Bowls (2 of 2)', '2026-05-05T18:00:00.000Z', 0],
    ]);
    expect(all[0]?.text).toContain('DTSTART:20260414T180000Z');
    expect(all[0]?.event).toMatchObject({
      ...{ uid: `${course.sessions[0]?.id}@wareboard`, status: 'CONFIRMED' },
      location: expect.stringContaining('Alder Lane Pottery'),
      organizer: { val: 'mailto:hello@alderlane.example' },
      attendee: { val: 'MAILTO:ana@example.org', params: { PARTSTAT: 'ACCEPTED' } },
    });
    await payFor(owner, booking, 1000);
    expect(await deliver()).toEqual([]); // a receipt says nothing new
  });

  test('follows a session that is moved, and one that is cancelled', async () => {
    const course = await home.addCourse({ title: 'Jars' });
    await confirmed(course);
    await deliver();
    const [first, second] = course.sessions;
    const moved = { day: '2026-04-16', from: '18:00', until: '20:30', roomId: first?.roomId, tutorIds: [] };
    expect((await owner.post(`/api/sessions/${first?.id}/moves`, moved)).statusCode).toBeLessThan(300);
    expect(told(await deliver())).toEqual([['REQUEST', 'Jars (1 of 2)', '2026-04-16T17:00:00.000Z', 1]]);
    const body = { reason: 'The tutor is ill' };
    expect((await owner.post(`/api/sessions/${second?.id}/cancellation`, body)).statusCode).toBeLessThan(300);
    expect(told(await deliver())).toEqual([
      ['CANCEL', 'Jars (2 of 2)', '2026-05-05T18:00:00.000Z', 1],
      ['REQUEST', 'Jars', '2026-04-16T17:00:00.000Z', 2],
    ]);
  });

  test('loses a booking that is cancelled, and has it again, later in its sequence, when it is booked anew', async () => {
    const course = await home.addCourse({ title: 'Plates' });
    const booking = await confirmed(course);
    await deliver();
    const end = { reason: 'Ill', method: 'cash' };
    expect((await owner.post(`/api/bookings/${booking.id}/cancellation`, end)).statusCode).toBeLessThan(300);
    const gone = await deliver();
    expect(gone.map(({ method, event }) => [method, Number(event.sequence), event.status])).toEqual([
      ['CANCEL', 1, 'CANCELLED'],
      ['CANCEL', 1, 'CANCELLED'],
    ]);
    const wish = { payerId: booking.payerId, attendeeIds: [booking.payerId] };
    const again: Booking = (await owner.post(`/api/courses/${course.id}/bookings`, wish)).json();
    await payFor(owner, again, again.depositMinor);
    expect((await deliver()).map(({ method, event }) => [method, Number(event.sequence)])).toEqual([
      ['REQUEST', 2],
      ['REQUEST', 2],
    ]);
  });

  test('loses a course that is cancelled as a whole', async () => {
    const course = await home.addCourse({ title: 'Tiles' });
    await confirmed(course);
    await deliver();
    const body = { cause: 'tooFew', reason: 'Too few booked' };
    expect((await owner.post(`/api/courses/${course.id}/cancellation`, body)).statusCode).toBeLessThan(300);
    expect((await deliver()).map(({ method }) => method)).toEqual(['CANCEL', 'CANCEL']);
  });

  test('is that of each who comes and has an address: they are told without sums', async () => {
    const course = await home.addCourse({ title: 'Cups' });
    const booking = await confirmed(course, 2);
    const second = booking.attendees[1]?.personId ?? '';
    const { email } = await db.person.findUniqueOrThrow({ where: { id: second } });
    const own = (await deliver()).filter(({ to }) => to === email);
    expect(own.map(({ method, event }) => [method, event.attendee])).toMatchObject([
      ['REQUEST', { val: `MAILTO:${email}` }],
      ['REQUEST', { val: `MAILTO:${email}` }],
    ]);
    const letter = await db.notice.findFirstOrThrow({ where: { personId: second, occasion: 'placeConfirmed' } });
    const { text } = (await owner.get(`/api/notices/${letter.id}`)).json();
    expect(text).toContain('Your place on Cups is confirmed.');
    expect(text).not.toMatch(/£|to pay/);
    const wish = { reason: 'Ill', method: 'cash', attendeeIds: [second] };
    expect((await owner.post(`/api/bookings/${booking.id}/cancellation`, wish)).statusCode).toBeLessThan(300);
    const changes = await deliver();
    expect(changes.map(({ to, method }) => [to, method])).toEqual([
      [email, 'CANCEL'],
      [email, 'CANCEL'],
    ]);
  });

  test('is told again where a letter did not go out', async () => {
    const course = await home.addCourse({ title: 'Lids' });
    await confirmed(course);
    const away: MailTransport = { send: () => Promise.reject(new MailNotSent('The mail server is away.', false)) };
    expect(await deliver(post({ transport: away }))).toEqual([]);
    expect((await deliver()).map(({ method, event }) => [method, Number(event.sequence)])).toEqual([
      ['REQUEST', 0],
      ['REQUEST', 0],
    ]);
  });
});

test.each([
  ['as the clocks go forward in Europe', '2026-03-29T18:00:00Z'],
  ['as they go back', '2026-10-25T19:00:00Z'],
  ['south of the equator, as they go back there', '2026-04-05T07:00:00Z'],
])('an invitation is in UTC: %s', (_, startsAt) => {
  const [start, end] = [new Date(startsAt), new Date(Date.parse(startsAt) + 7_200_000)];
  const text = invitationFile(
    {
      ...{ method: 'REQUEST', sessionId: 'a', sequence: 3, ended: false },
      ...{ startsAt: start, endsAt: end, summary: 'Bowls, jars; "lids"', location: 'Long room, 7 Alder Lane' },
    },
    {
      from: { name: 'Alder Lane', address: 'hello@alderlane.example' },
      to: { name: 'Zoë "Z" Brandt; Lind', address: 'zoe@example.org' },
      description: 'Through the yard,\nthen left',
      now: start,
    },
  );
  const event = Object.values(ical.sync.parseICS(text)).find((part): part is VEvent => part?.type === 'VEVENT');
  expect(event).toMatchObject({ start, end, summary: 'Bowls, jars; "lids"', sequence: 3 });
  expect(text).not.toMatch(/TZID|VTIMEZONE/);
  for (const line of text.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75); // RFC 5545 (3.1)
});
