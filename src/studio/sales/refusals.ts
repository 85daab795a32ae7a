import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'more-than-sold': { status: 409, title: 'That is more than was sold' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
