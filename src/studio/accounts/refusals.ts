import { declareRefusals } from '../../problems.js';

const REFUSALS = {
  'nothing-owed': { status: 409, title: 'Nothing is owed any more' },
  'already-reminded': { status: 409, title: 'A reminder was sent recently' },
  'address-missing': { status: 409, title: 'An address is needed for this paper' },
  'more-than-owed': { status: 409, title: 'That is more than is owed' },
  'not-reversible': { status: 409, title: 'This payment cannot be taken back' },
  'not-balanced': { status: 409, title: 'The books would not balance' },
  'voucher-spent': { status: 409, title: 'Not enough is left on the voucher' },
  'voucher-expired': { status: 409, title: 'The voucher is no longer valid' },
  'voucher-other-tax': { status: 409, title: 'The voucher is for another VAT rate' },
  'voucher-still-valid': { status: 409, title: 'The voucher can still be used' },
} as const;

declareRefusals(REFUSALS);

type Own = typeof REFUSALS;
declare module '../../problems.js' {
  interface Refusals extends Own {}
}
