import { Decimal, minorDigits } from '../../trade/money.js';
import { Refused, type Schemas } from '../client';
import type { Charge, Debtor } from './reckoning';

type NewPayment = { personId: string; method: Method; for: { chargeId: string; amountMinor: number }[] };
type Method = Exclude<Schemas['Payment']['method'], 'voucher'>;

/** How the money came; a word of the API with what people call it. */
export const METHODS: readonly (readonly [Method, string])[] = [
  ['cash', 'In cash'],
  ['card', 'By card'],
  ['transfer', 'By transfer'],
];

/** One line of the form: whether this charge is paid, and how much is typed. */
export type Typed = { charge: Charge; taken: boolean; amount: string };
export type Faults = { byCharge: Record<string, string>; whole: string };

export const NO_FAULTS: Faults = { byCharge: {}, whole: '' };

/** What is due is taken in full, unless somebody says otherwise; where nothing is due yet, all that is owed. */
export function usualPayment({ charges, dueMinor }: Debtor, currency: string): Typed[] {
  return charges.map((charge) => {
    const minor = dueMinor > 0 ? charge.dueMinor : charge.owedMinor;
    return { charge, taken: minor > 0, amount: majorOf(minor || charge.owedMinor, currency) };
  });
}

export function majorOf(minor: number, currency: string): string {
  const digits = minorDigits(currency);
  return new Decimal(minor).div(new Decimal(10).pow(digits)).toFixed(digits);
}

/** Whole minor units, with a point or a comma before the pennies; null where it is no amount above zero. */
export function minorOf(text: string, currency: string): number | null {
  const digits = minorDigits(currency);
  const plain = text.trim().replace(',', '.');
  if (!/^\d{1,9}(\.\d*)?$/.test(plain)) return null;
  const minor = new Decimal(plain).times(new Decimal(10).pow(digits));
  return minor.isInteger() && minor.gt(0) ? minor.toNumber() : null;
}

/** The payment as the API takes it, or what stands in its way, by charge. */
export function paymentOf(
  personId: string,
  method: Method,
  typed: readonly Typed[],
  currency: string,
): { payment: NewPayment } | { faults: Faults } {
  const taken = typed.filter((line) => line.taken);
  if (taken.length === 0) return { faults: { byCharge: {}, whole: 'Choose at least one charge that is paid.' } };
  const parts = taken.map(({ charge, amount }) => ({ charge, amountMinor: minorOf(amount, currency) }));
  const wrong = parts.filter(({ amountMinor }) => amountMinor === null);
  const example = majorOf(1250, currency);
  if (wrong.length > 0)
    return {
      faults: {
        byCharge: Object.fromEntries(
          wrong.map(({ charge }) => [charge.chargeId, `Write an amount above zero, such as ${example}.`]),
        ),
        whole: '',
      },
    };
  const paid = parts.map(({ charge, amountMinor }) => ({ chargeId: charge.chargeId, amountMinor: amountMinor ?? 0 }));
  return { payment: { personId, method, for: paid } };
}

/** What the API refused, told at the charge it is about: by its place in the request, or by its name in the sentence. */
export function faultsFrom(error: unknown, payment: NewPayment, typed: readonly Typed[]): Faults {
  const faults: Faults = { byCharge: {}, whole: '' };
  if (!(error instanceof Refused)) return { ...faults, whole: String(error) };
  if (error.type === 'unreachable')
    return { ...faults, whole: 'The server did not answer. Press the button again: the same payment is taken once.' };
  for (const { pointer, detail } of error.faults) {
    const place = Number(/^#\/for\/(\d+)/.exec(pointer)?.[1] ?? Number.NaN);
    const chargeId = payment.for[place]?.chargeId;
    if (chargeId) faults.byCharge[chargeId] = detail;
  }
  const ids = new Set(payment.for.map(({ chargeId }) => chargeId));
  const named = typed.find(
    ({ charge }) => ids.has(charge.chargeId) && error.message.includes(`"${charge.description}"`),
  );
  if (named) faults.byCharge[named.charge.chargeId] = error.message;
  return { ...faults, whole: Object.keys(faults.byCharge).length > 0 ? '' : error.message };
}
