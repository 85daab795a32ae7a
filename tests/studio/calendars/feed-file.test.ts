import ical, { type VEvent } from 'node-ical';
import { describe, expect, test } from 'vitest';
import { feedFile } from '../../../src/studio/calendars/feed-file.js';
import type { FeedSession } from '../../../src/studio/calendars/queries.js';
import { instantAt, localTime } from '../../../src/trade/calendar/calendar.js';

// Read back by a library that shares no code with the one that writes it: node-ical, from the registry.

const NOW = new Date('2026-03-10T09:00:00Z');
const at = (day: string, time: string, zone: string, changes: Partial<FeedSession> = {}): FeedSession => ({
  ...{ id: `01900000-0000-7000-8000-${day.replaceAll('-', '').padStart(12, '0')}`, sequence: 0, title: 'Two mugs' },
  ...{ ordinal: 1, of: 2, room: 'Studio', tutors: ['Mara Lind'], places: 8, coming: 3, cancelledBecause: null },
  startsAt: instantAt(day, time, zone),
  endsAt: new Date(instantAt(day, time, zone).getTime() + 150 * 60_000),
  ...changes,
});
const readBack = (text: string): VEvent[] =>
  Object.values(ical.sync.parseICS(text)).filter((part): part is VEvent => part?.type === 'VEVENT');

describe('a calendar file', () => {
  test.each([
    ['Europe/London', ['2026-03-28', '2026-03-29', '2026-03-30', '2026-10-24', '2026-10-25', '2026-10-26']],
    ['Australia/Hobart', ['2026-04-04', '2026-04-05', '2026-04-06', '2026-10-03', '2026-10-04', '2026-10-05']],
  ])('keeps an evening at seven across both changes of the clock in %s', (zone, days) => {
    const sessions = days.map((day) => at(day, '19:00', zone));
    const events = readBack(feedFile('Alder Lane', sessions, NOW));
    expect(events.map(({ start }) => start?.toISOString())).toEqual(
      sessions.map(({ startsAt }) => startsAt.toISOString()),
    );
    expect(events.map(({ end }) => end && localTime(end, zone))).toEqual(days.map(() => '21:30'));
    expect(new Set(sessions.map(({ startsAt }) => startsAt.getUTCHours())).size).toBe(2); // the clock did change
  });

  test('says what, where, how many and who, whatever signs stand in it', () => {
    const title =
      'Glaze, layer; and "look": \\ a course with a very long title in which there is much to be folded ✓ äöü';
    const [event] = readBack(feedFile('A; B, C', [at('2026-04-14', '19:00', 'Europe/London', { title })], NOW));
    expect(event).toMatchObject({
      summary: `${title} (1 of 2)`,
      location: 'Studio',
      description: '3 of 8 places are taken.\nTaught by Mara Lind.',
      status: 'CONFIRMED',
    });
  });

  test('keeps the UID of a session that is moved or cancelled, and counts its versions', () => {
    const before = at('2026-04-14', '19:00', 'Europe/London', { of: 1 });
    const after = { ...before, sequence: 1, cancelledBecause: 'The tutor is ill' };
    const [first] = readBack(feedFile('Alder Lane', [before], NOW));
    const [second] = readBack(feedFile('Alder Lane', [after], NOW));
    expect(second?.uid).toBe(first?.uid);
    expect([first?.sequence, second?.sequence].map(Number)).toEqual([0, 1]);
    expect(second).toMatchObject({
      status: 'CANCELLED',
      description: 'Cancelled: The tutor is ill',
      summary: 'Two mugs',
    });
  });

  // RFC 5545, sections 3.1 (lines of at most 75 octets, ended by CRLF), 3.6 and 3.7 (what an object must have)
  test('is an iCalendar object by the letter', () => {
    const title = 'ä'.repeat(100);
    const text = feedFile('Alder Lane', [at('2026-04-14', '19:00', 'Europe/London', { title })], NOW);
    const lines = text.split('\r\n');
    expect(lines.every((line) => Buffer.byteLength(line) <= 75)).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toContain('\n');
    for (const line of [
      'BEGIN:VCALENDAR',
      'VERSION:2.0',
      'METHOD:PUBLISH',
      'DTSTAMP:20260310T090000Z',
      'DTSTART:20260414T180000Z',
    ])
      expect(lines).toContain(line);
    expect(lines.filter((line) => line.startsWith('UID:'))).toHaveLength(1);
    expect(feedFile('Alder Lane', [], NOW)).toContain('END:VCALENDAR');
  });
});
