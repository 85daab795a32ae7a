import type { Course } from '../courses/contract.js';

const HOUR_MILLISECONDS = 3_600_000;

/** When the hold of a place booked or offered now ends: at the latest as the course begins, when nobody else could take it any more. */
export function holdEnd({ holdHours, sessions }: Pick<Course, 'holdHours' | 'sessions'>, now: Date): Date {
  const begins = new Date(sessions[0]?.startsAt ?? now);
  const end = new Date(now.getTime() + holdHours * HOUR_MILLISECONDS);
  return end < begins ? end : begins;
}
