import type { Invariant } from '../../database/invariant.js';

/** What must always hold of what is noted of a course once it has run. */
export const invariants: readonly Invariant[] = [
  {
    name: 'nobody worked less than nothing for a course',
    sql: `SELECT format('course %s: %s minutes of %s', course_id, sum(minutes), what) AS fault
            FROM course_hours GROUP BY course_id, what, staff_member_id HAVING sum(minutes) < 0`,
  },
];
