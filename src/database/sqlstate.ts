import { Problem, type ProblemType } from '../problems.js';

interface DriverError {
  cause?: { originalCode?: string; originalMessage?: string; kind?: string };
}

/**
 * The SQLSTATE behind a database error, or undefined where there is none (a lost connection).
 * Inside a transaction the adapter's error sits in `meta`; one raised by COMMIT (a deferred trigger, a serialization failure) comes bare.
 */
export function sqlState(error: unknown): string | undefined {
  return driverError(error)?.cause?.originalCode;
}

const AWAY: Refusal = [
  'database-away',
  'The database cannot be reached at the moment. Nothing was saved; please try again shortly.',
];
const BUSY: Refusal = ['database-busy', 'Too much was going on at once. Nothing was saved; please try again shortly.'];
const TOO_LONG: Refusal = [
  'database-busy',
  'It took too long and was stopped. Nothing was saved: try again when less is going on, or do a part at a time.',
];
const NOT_FITTING: Refusal = ['invalid-request', 'That value is not allowed there. Please correct it and try again.'];

type Refusal = readonly [ProblemType, string];

/**
 * What a person is told when the database refuses. The services refuse first and say more; this is the second wall, reached
 * where two people did the same at once. Those of WB are raised by the triggers, one for each of the studio's rules.
 */
const REFUSALS: Record<string, Refusal> = {
  WB001: ['not-balanced', 'The parts do not add up to the total. Look it up again, and correct them.'],
  WB002: ['course-full', 'The last places have just gone. Look the course up again.'],
  WB003: ['room-full', 'The room has too few benches at that time. Choose another room or time.'],
  WB004: [
    'not-balanced',
    'The books have changed or would not balance. Look the charge up again; correct a mistake with another entry.',
  ],
  WB005: [
    'never-changes',
    'A paper that was issued stays as it is. Correct a mistake with another paper that names it.',
  ],
  WB006: ['stock-impossible', 'The lot does not have that much any more. Look it up again, or count it.'],
  WB007: ['wrong-stage', 'The piece is in a kiln already, or not at a stage for this firing. Look both up again.'],
  WB008: [
    'key-reused',
    'This was done before with different content. Look up what is there, then send a fresh Idempotency-Key.',
  ],
  WB009: ['never-changes', 'A message that was sent stays as it is. Write another one instead.'],
  WB010: ['not-allowed', 'You don’t have permission for this. Ask the owner.'],
  WB011: ['last-owner', 'This is the last owner who can sign in. Make somebody else an owner first.'],
  WB014: ['already-there', 'The waiting list has just changed, or this person has a place. Look the list up again.'],
  WB015: ['never-changes', 'What was noted stays as it is. Note it again: the latest counts.'],
  WB016: ['no-place', 'They have no place at this session, or it is still to come. Look the register up again.'],
  WB017: ['wrong-time', 'The session can’t be at that time any more. Look the course up again.'],
  WB020: ['course-over', 'The course or session has just been cancelled. Look the course up again.'],
  WB035: ['already-there', 'This request has just been answered. Look the requests up again.'],
  WB021: [
    'no-make-up',
    'The session can’t be made up there any more, or somebody makes one up in it. Look both up again.',
  ],
  WB029: ['plan-retired', 'The plan has just been retired. Bring it back, or choose another.'],
  WB025: [
    'not-bookable',
    'The course is not booked today, or has an age that everybody who comes must be of. Look the course up again.',
  ],
  WB026: ['already-there', 'This person has a place on the course already. Look the course up again.'],
  WB027: ['not-balanced', 'The two entries changed meanwhile. Nothing was merged: look both up again.'],
  WB030: ['membership-changed', 'The membership has changed meanwhile, or stays as it was agreed. Look it up again.'],
  WB024: [
    'closed-day',
    'The studio is closed that day. Choose another day, or say that the session takes place all the same.',
  ],
  WB028: ['not-a-child', 'A guardian is a grown-up who answers for a child. Look both up again.'],
  '22003': NOT_FITTING, // numeric_value_out_of_range
  '22021': NOT_FITTING, // character_not_in_repertoire: NUL
  '22P02': NOT_FITTING, // invalid_text_representation
  '23514': NOT_FITTING, // check_violation
  '23503': [
    'still-needed',
    'It refers to something that is gone, or something still refers to it. Look both up again.',
  ],
  '23505': ['already-there', 'There is one like it already. Look it up, and change that one if you meant it.'],
  '40001': BUSY, // serialization_failure, after all retries
  '40P01': BUSY, // deadlock_detected, after all retries
  '55P03': BUSY, // lock_not_available
  '57014': BUSY, // query_canceled, by the time limit
  '53100': ['disk-full', 'The disk of the database is full. Nothing was saved: make room on it, then send it again.'], // disk_full
};

/** The tables' exclusion constraints, whose names stand in the message (23P01 alone doesn't say which). */
const OVERLAPS: Record<string, Refusal> = {
  kiln_once_at_a_time: ['kiln-busy', 'The kiln is planned for another firing then. Choose another time or kiln.'],
  kiln_fires_one_load: ['kiln-busy', 'The kiln is firing. Unload it first, or choose another.'],
  membership_once_at_a_time: [
    'already-member',
    'This person is a member at that time already. Look the membership up again.',
  ],
  membership_shelf_given_once: ['shelf-taken', 'Somebody else has that shelf then. Choose another one.'],
  membership_pause_once_at_a_time: [
    'membership-changed',
    'The membership is paused then already. Look it up again, and choose other days.',
  ],
  staff_link_once: [
    'already-there',
    'A link for this person was made a moment ago. Look through the staff, and make another if it is needed.',
  ],
  staff_member_email_once: [
    'already-there',
    'Somebody signs in with this address already. Look through the staff, and use another address.',
  ],
  tutor_once_at_a_time: ['tutor-busy', 'The tutor is needed elsewhere then. Choose another time or tutor.'],
};

/** What to answer where the database refused, or undefined where the error is a fault of ours or not the database's. */
export function problemFor(error: unknown): Problem | undefined {
  const refusal = isAway(error)
    ? AWAY
    : isTooLong(error)
      ? TOO_LONG
      : isBusy(error)
        ? BUSY
        : refusalOf(driverError(error)?.cause);
  return refusal && new Problem(...refusal);
}

function refusalOf(cause: DriverError['cause']): Refusal | undefined {
  if (cause?.originalCode !== '23P01') return REFUSALS[cause?.originalCode ?? ''];
  const [, constraint] = cause.originalMessage?.match(/"(\w+)"/) ?? [];
  return OVERLAPS[constraint ?? ''];
}

const LOST = new Set(['DatabaseNotReachable', 'ConnectionClosed', 'SocketTimeout', 'TlsConnectionError']);
// A connection that breaks in the middle comes as the driver's plain Error, of which only the message tells.
const LOST_MESSAGE = /^(Connection terminated|Client has encountered a connection error|timeout exceeded when trying)/;

function isAway(error: unknown): boolean {
  const cause = driverError(error)?.cause;
  // 08: connection exceptions; 57P01 to 57P03: the server stops or starts; 28: it does not let us in; 53300: it is full
  if (cause?.originalCode) return /^(08|28|57P0[123]|53300)/.test(cause.originalCode);
  return LOST.has(cause?.kind ?? '') || (error instanceof Error && LOST_MESSAGE.test(error.message));
}

/** Prisma's own time limits on a transaction: no connection was free, or the work took too long, of which only the message tells. */
const isBusy = (error: unknown) => (error as { code?: string } | null)?.code === 'P2028';
const isTooLong = (error: unknown) =>
  isBusy(error) && /expired transaction|already closed/.test((error as Error).message);

function driverError(error: unknown): DriverError | undefined {
  if (typeof error !== 'object' || error === null) return undefined;
  const wrapped = (error as { meta?: { driverAdapterError?: DriverError } }).meta?.driverAdapterError;
  return wrapped ?? (error as DriverError);
}
