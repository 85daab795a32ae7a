import { majorUnits } from '../../../trade/money/money.js';
import { parseMoney } from '../../../trade/text/parse-input.js';
import { Refused, type Schemas } from '../../api/client';
import type { Charge, Debtor } from './charge-totals';

export type Method = Schemas['Payment']['method'];
export type NewPayment = {
  personId: string;
  method: Method;
  voucherCode?: string;
  for: { chargeId: string; amountMinor: number }[];
};

/** How the money came; a word of the API with what people call it. */
export const METHODS: readonly (readonly [Method, string])[] = [
  ['cash', 'In cash'],
  ['card', 'By card'],
  ['transfer', 'By transfer'],
  ['voucher', 'With a voucher'],
];

/** One line of the form: whether this charge is paid, and how much is typed. */
export type Typed = { charge: Charge; taken: boolean; amount: string };
export type Faults = { byCharge: Record<string, string>; voucher: string; whole: string };
/** What somebody filled in. */
export type Filled = { method: Method; voucherCode: string; lines: readonly Typed[] };

export const NO_FAULTS: Faults = { byCharge: {}, voucher: '', whole: '' };

/**
 * What is due is taken in full, unless somebody says otherwise; where nothing is due yet, all that is owed; and where nothing is owed,
 * the deposit of what is held.
 */
export function usualPayment({ charges, dueMinor, owedMinor }: Debtor, currency: string): Typed[] {
  return charges.map((charge) => {
    const { hold } = charge;
    if (hold) return { charge, taken: owedMinor === 0, amount: majorUnits(hold.depositMinor, currency) };
    const minor = dueMinor > 0 ? charge.dueMinor : charge.owedMinor;
    return { charge, taken: minor > 0, amount: majorUnits(minor || charge.owedMinor, currency) };
  });
}

/** The payment as the API takes it, or what stands in its way. */
export function paymentOf(
  personId: string,
  { method, voucherCode, lines }: Filled,
  currency: string,
): { payment: NewPayment } | { faults: Faults } {
  const taken = lines.filter((line) => line.taken);
  if (taken.length === 0) return { faults: { ...NO_FAULTS, whole: 'Choose what this payment is for.' } };
  const byCharge: Record<string, string> = {};
  const paid = taken.map(({ charge: { chargeId }, amount }) => {
    try {
      return { chargeId, amountMinor: parseMoney(amount, currency, 1) };
    } catch (error) {
      byCharge[chargeId] = (error as Error).message;
      return { chargeId, amountMinor: 0 };
    }
  });
  const code = voucherCode.trim();
  const voucher = method === 'voucher' && code === '' ? 'Write the code on the voucher.' : '';
  if (voucher || Object.keys(byCharge).length > 0) return { faults: { byCharge, voucher, whole: '' } };
  return { payment: { personId, method, for: paid, ...(method === 'voucher' && { voucherCode: code }) } };
}

/** What the API refused, told at the field it is about, as its pointer into the request says. */
export function faultsFrom(error: unknown, payment: NewPayment): Faults {
  if (!(error instanceof Refused)) return { ...NO_FAULTS, whole: String(error) };
  if (error.type === 'unreachable')
    return {
      ...NO_FAULTS,
      whole: 'The server did not answer. Press the button again: however often it is sent, this payment is taken once.',
    };
  if (error.faults.some(({ pointer }) => pointer === '#/voucherCode')) return { ...NO_FAULTS, voucher: error.message };
  const places = error.faults.flatMap(({ pointer, detail }) => {
    const chargeId = payment.for[Number(/^#\/for\/(\d+)/.exec(pointer)?.[1])]?.chargeId;
    const told = error.type === '/problems/invalid-request' ? detail : error.message; // which says what to do, too
    return chargeId ? [[chargeId, told] as const] : [];
  });
  return { ...NO_FAULTS, byCharge: Object.fromEntries(places), whole: places.length > 0 ? '' : error.message };
}
