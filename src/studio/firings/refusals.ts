import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'outside-range': { status: 409, title: 'The firing is outside the range of the ware' },
  'in-another-kiln': { status: 409, title: 'The piece is in a kiln already' },
  'wrong-state': { status: 409, title: 'The firing is not at that point' },
  'kiln-busy': { status: 409, title: 'The kiln is already in use then' },
  'reading-missing': { status: 409, title: 'A meter reading is missing' },
  'reading-impossible': { status: 409, title: 'A meter cannot have shown that' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
