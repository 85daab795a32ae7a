import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  merged: { status: 409, title: 'This entry was merged into another person’s' },
  'not-a-child': { status: 409, title: 'A guardian is a grown-up who answers for a child' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
