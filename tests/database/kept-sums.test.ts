import { expect, test } from 'vitest';
import { openDatabase } from '../../src/database/client.js';
import { inTransaction } from '../../src/database/transaction.js';
import { noteEnrolments } from '../../src/studio/pricing/queries.js';
import { findBrokenRules } from '../invariants.js';
import { cloneDemo, SEEDED } from '../support/demo.js';
import { faultsAfter } from '../support/past-triggers.js';

// What is kept so that nobody need add it up, against the books it is kept from: a year of the invented studio.
const url = await cloneDemo();
const { db, close } = await openDatabase(url);
await inTransaction(db, (tx) => noteEnrolments(tx, new Date(SEEDED)));
const faults = await findBrokenRules(db);
await close();

test('all that is kept is what the books say', () => {
  expect(faults).toEqual([]);
});

test.each([
  [
    'what is left of a lot',
    'UPDATE lot SET left_quantity = left_quantity - 1 WHERE id = (SELECT id FROM lot WHERE left_quantity > 1 LIMIT 1)',
    'what a lot is said to hold is what its moves left: lot',
  ],
  [
    'its worth',
    'UPDATE lot SET left_minor = left_minor - 1 WHERE id = (SELECT id FROM lot WHERE left_minor > 1 LIMIT 1)',
    'what a lot is said to hold is what its moves left: lot',
  ],
  [
    'what is left on a voucher',
    'UPDATE open_voucher SET left_minor = left_minor + 1 WHERE voucher_id = (SELECT voucher_id FROM open_voucher LIMIT 1)',
    'what is left on vouchers is what their moves left: voucher',
  ],
  [
    'where a piece was lost',
    "UPDATE piece SET lost_at = 'lustre' WHERE id = (SELECT id FROM piece WHERE lost_at <> 'lustre' LIMIT 1)",
    'a lost piece is counted where it was lost: piece',
  ],
  [
    'how many booked on a course',
    'UPDATE course_enrolment SET booked = booked - 1 WHERE course_id = (SELECT course_id FROM course_enrolment WHERE booked > 0 LIMIT 1)',
    'a noted enrolment is that of the bookings: course',
  ],
  [
    'whether that is noted',
    'UPDATE course SET enrolment_noted = false WHERE id = (SELECT course_id FROM course_enrolment LIMIT 1)',
    'a course is marked as noted where its enrolment is: course',
  ],
])('check tells where %s is off', async (_, sql, fault) => {
  expect(await faultsAfter(url, sql)).toContain(fault);
});
