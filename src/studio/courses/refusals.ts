import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'course-over': { status: 409, title: 'The course is over, or was cancelled' },
  'course-running': { status: 409, title: 'The course is not over yet' },
  'closed-day': { status: 409, title: 'The studio is closed then' },
  'plan-retired': { status: 409, title: 'The plan is retired' },
  'tutor-busy': { status: 409, title: 'The tutor is needed elsewhere then' },
  'too-soon': { status: 409, title: 'The ware is not ready by then' },
  'room-full': { status: 409, title: 'The room has too few benches then' },
  'already-cancelled': { status: 409, title: 'This was cancelled before' },
  'enough-booked': { status: 409, title: 'Enough students have booked' },
  'last-session': { status: 409, title: 'It is the only session left' },
  'wrong-time': { status: 409, title: 'The session can’t be at that time' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
