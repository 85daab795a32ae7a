import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  merged: { status: 409, title: 'This entry was merged into another person’s' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
