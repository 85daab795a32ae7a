import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'stock-impossible': { status: 409, title: 'The lot does not have that much' },
  'price-incomplete': { status: 409, title: 'Something has no price yet' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
