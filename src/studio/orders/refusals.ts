import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'order-state': { status: 409, title: 'The order is not at that point' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
