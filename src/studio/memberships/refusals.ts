import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'already-member': { status: 409, title: 'This person is a member then already' },
  'shelf-taken': { status: 409, title: 'Somebody else has this shelf' },
  'membership-changed': { status: 409, title: 'The membership is not as it was' },
  'membership-over': { status: 409, title: 'The membership has ended' },
  'month-charged': { status: 409, title: 'A month is charged already' },
  'notice-too-short': { status: 409, title: 'That is sooner than agreed' },
  'outside-membership': { status: 409, title: 'That is outside the membership' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
