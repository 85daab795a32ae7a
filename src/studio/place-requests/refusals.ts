import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'requests-waiting': { status: 409, title: 'Too many requests wait for an answer' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
