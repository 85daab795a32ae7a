import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'both-there': { status: 409, title: 'Both have what one person has once' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
