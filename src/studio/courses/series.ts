import type { Transaction } from '../../database/transaction.js';
import { getStudio } from '../settings/service.js';
import type { Course } from './contract.js';
import { plannedSessions } from './free-sessions.js';
import { findTooSoon } from './lead-times.js';
import { getPlan } from './plans.js';
import { findConflicts } from './schedule-conflicts.js';
import type { NewCourseSeries, SessionsChecked, SessionsToCheck } from './series-contract.js';
import { addCourse } from './service.js';

/** Puts courses into the calendar, such as an open bench on every Saturday: all of them, or none. */
export async function addCourses(tx: Transaction, { courses }: NewCourseSeries): Promise<Course[]> {
  const added: Course[] = [];
  for (const course of courses) added.push(await addCourse(tx, course));
  return added;
}

/** What is in the way of sessions at some times: closed days, tutors, rooms, and ware that is not ready. It changes nothing. */
export async function checkSessions(tx: Transaction, wanted: SessionsToCheck): Promise<SessionsChecked> {
  const studio = await getStudio(tx);
  const plan = await getPlan(tx, wanted.planId);
  const { sessions } = wanted;
  const conflicts = await findConflicts(tx, studio, await plannedSessions(tx, wanted));
  const isOneCourse = plan.sessions.length > 1;
  const dated = sessions.flatMap((times, i) => {
    const purpose = plan.sessions[i]?.purpose;
    return isOneCourse && purpose ? [{ ...times, purpose, ordinal: i + 1 }] : [];
  });
  const tooSoon = await findTooSoon(tx, studio, plan, dated);
  return {
    sessions: sessions.map((_, i) => ({
      conflicts: [...(conflicts[i] ?? []), tooSoon[i] ?? null]
        .filter((problem) => problem !== null)
        .map(({ type, detail }) => ({ type: `/problems/${type}`, detail })),
    })),
  };
}
