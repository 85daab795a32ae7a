import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'wrong-stage': { status: 409, title: 'The piece is not at a stage for this' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
