import type { Invariant } from '../../database/invariant.js';

/** What must always hold of people who were merged. */
export const invariants: readonly Invariant[] = [
  {
    name: 'who was merged is nobody any more, and leads to somebody',
    sql: `SELECT format('person %s was merged into %s and is still there, or nothing says what moved', m.id, m.into_id) AS fault
            FROM person_merge m LEFT JOIN person p ON p.id = m.id WHERE p.id IS NOT NULL OR m.moved IS NULL`,
  },
  {
    name: 'what a merge moved of the books comes to what was owed, and is of the one who stays',
    sql: `SELECT format('the merge of %s moved %s of the books, of %s, to %s', m.id, b.sum, m.balance_minor, m.into_id) AS fault
            FROM person_merge m, LATERAL (
              SELECT coalesce(sum(p.amount_minor), 0) AS sum, coalesce(bool_and(p.person_id = m.into_id), true) AS is_theirs
                FROM jsonb_array_elements_text(m.moved -> 'posting.person_id') k JOIN posting p ON p.id = k.value::uuid) b
           WHERE b.sum <> m.balance_minor OR NOT b.is_theirs`,
  },
  {
    name: 'a person has one place on a course',
    sql: `SELECT format('person %s has %s places on course %s', p.person_id, count(*), b.course_id) AS fault
            FROM place p JOIN booking b ON b.id = p.booking_id WHERE b.cancelled_at IS NULL
           GROUP BY p.person_id, b.course_id HAVING count(*) > 1`,
  },
];
