import { cancelCourse } from '../../studio/bookings/cancel-course/service.js';
import { cancelSessionAndNotify } from '../../studio/bookings/sessions/cancel-session.js';
import { moveSessionAndNotify } from '../../studio/bookings/sessions/move-session.js';
import { getCourse } from '../../studio/courses/service.js';
import type { DemoContext } from './context.js';
import type { DemoEventOf } from './event-log.js';
import { ownerOf } from './owner.js';

async function sessionOf({ tx, names }: DemoContext, entry: { course: string; session: number }) {
  const { sessions } = await getCourse(tx, names.id('course', entry.course));
  const found = sessions.find(({ ordinal }) => ordinal === entry.session);
  if (!found) throw new Error(`The seeds name session ${entry.session} of "${entry.course}", which it does not have.`);
  return found;
}

export async function cancelDemoCourse(page: DemoContext, entry: DemoEventOf<'cancelCourse'>): Promise<void> {
  const { tx, now, names } = page;
  const wanted = { reason: entry.because, cause: 'tooFew' } as const;
  await cancelCourse(tx, now, await ownerOf(tx), names.id('course', entry.course), wanted);
}

export async function cancelDemoSession(page: DemoContext, entry: DemoEventOf<'cancelSession'>): Promise<void> {
  const { tx, now } = page;
  const { backMinor, because: reason } = entry;
  const { id } = await sessionOf(page, entry);
  await cancelSessionAndNotify(tx, now, await ownerOf(tx), id, { reason, backMinor });
}

export async function moveDemoSession(page: DemoContext, entry: DemoEventOf<'moveSession'>): Promise<void> {
  const { tx, now, shift } = page;
  const { from, until, because: reason } = entry;
  const { id, roomId, tutors } = await sessionOf(page, entry);
  const tutorIds = tutors.map((tutor) => tutor.id);
  const wanted = { day: shift.day(entry.day), from, until, roomId, tutorIds, reason };
  await moveSessionAndNotify(tx, now, await ownerOf(tx), id, wanted);
}
