import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'course-full': { status: 409, title: 'Not enough places are left' },
  'concession-full': { status: 409, title: 'Not enough places are left at this price' },
  'not-bookable': { status: 409, title: 'The course is not booked today' },
  'age-limit': { status: 409, title: 'The course has an age limit' },
  'already-waiting': { status: 409, title: 'This person waits already' },
  'places-left': { status: 409, title: 'There are places left' },
  'nobody-waits': { status: 409, title: 'Nobody waits' },
  'no-offer': { status: 409, title: 'There is no such offer any more' },
  'no-place': { status: 409, title: 'They have no place at this session' },
  'no-make-up': { status: 409, title: 'This session can’t be made up there' },
  'session-ahead': { status: 409, title: 'The session is still to come' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
