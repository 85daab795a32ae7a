import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'tariff-missing': { status: 409, title: 'No electricity tariff covers that day' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
