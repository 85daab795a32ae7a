import ical, { ICalAttendeeRole, ICalAttendeeStatus, type ICalCalendarMethod, ICalEventStatus } from 'ical-generator';
import type { Mailbox } from '../../../mail/message.js';
import type { EntryChange } from './changes.js';

/**
 * One session as an iCalendar object that a mail program takes into its owner's calendar (RFC 5546): in UTC, whose UID stays and whose
 * SEQUENCE rises. A REQUEST may hold one UID only (RFC 5546, 3.2.2): each session is one of its own.
 */
export function invitationFile(
  { method, sessionId, sequence, startsAt, endsAt, summary, location }: EntryChange,
  { from, to, description, now }: { from: Mailbox; to: Mailbox; description: string | null; now: Date },
): string {
  const calendar = ical({
    prodId: { company: 'Wareboard', product: 'Wareboard', language: 'EN' },
    method: method as ICalCalendarMethod,
  });
  const event = calendar.createEvent({
    ...{ id: `${sessionId}@wareboard`, sequence, stamp: now, start: startsAt, end: endsAt, summary, location },
    ...(description !== null && { description }),
    status: method === 'CANCEL' ? ICalEventStatus.CANCELLED : ICalEventStatus.CONFIRMED,
    organizer: { name: from.name || from.address, email: from.address },
  });
  event.createAttendee({
    ...{ name: to.name, email: to.address, rsvp: false },
    ...{ role: ICalAttendeeRole.REQ, status: ICalAttendeeStatus.ACCEPTED }, // they booked it
  });
  return calendar.toString();
}
