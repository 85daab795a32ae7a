import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'set-up-done': { status: 409, title: 'The studio is set up already' },
  'wrong-password': { status: 401, title: 'The email address or the password is wrong' },
  'last-owner': { status: 409, title: 'The studio needs an owner' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
