import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'set-up-missing': { status: 409, title: 'The studio is not set up yet' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
