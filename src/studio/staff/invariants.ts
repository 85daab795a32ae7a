import type { Invariant } from '../../database/invariant.js';

/** What must always hold of who may come in. */
export const invariants: readonly Invariant[] = [
  {
    name: 'nobody who was removed has a way in, and an owner has',
    sql: `SELECT format('staff member %s was removed and has a session, a token or a link', m.id) AS fault FROM staff_member m
           WHERE m.removed_at IS NOT NULL AND (
             EXISTS (SELECT FROM sign_in s WHERE s.staff_member_id = m.id)
             OR EXISTS (SELECT FROM api_token t WHERE t.staff_member_id = m.id AND t.revoked_at IS NULL)
             OR EXISTS (SELECT FROM staff_link l WHERE l.staff_member_id = m.id AND l.used_at IS NULL AND l.ended_at IS NULL))
          UNION ALL
          SELECT format('staff member %s works here, and no owner can sign in', min(id::text)) FROM staff_member
           WHERE removed_at IS NULL HAVING count(*) > 0
             AND count(*) FILTER (WHERE role = 'owner' AND password_hash IS NOT NULL) = 0`,
  },
];
