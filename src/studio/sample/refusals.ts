import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'sample-impossible': { status: 409, title: 'The sample studio can’t be opened here' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
