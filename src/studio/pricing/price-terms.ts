import type { Transaction } from '../../database/transaction.js';
import { Decimal } from '../../trade/money/money.js';
import type { TaxTreatment } from '../../trade/money/tax.js';
import type { PriceInputs } from '../../trade/pricing/course-price.js';
import { soldPriceMinor } from '../../trade/pricing/takings.js';
import { placeAt } from '../bookings/concessions.js';
import { paymentsFor } from '../bookings/terms.js';
import type { Course } from '../courses/contract.js';
import type { Plan } from '../courses/plan-contract.js';
import type { Studio } from '../settings/contract.js';
import { getTaxRate, taxTreatmentOf } from '../settings/service.js';

// How a price is paid: at which prices, in how many payments, and with what VAT.

/**
 * The prices at which places are expected to go. A course has those of its plan that it has a concession for, at what it really
 * charges; a concession of its own that the plan doesn't know has no expected share, and counts for nothing.
 */
export function soldOf(plan: Plan, course: Course | null): Pick<PriceInputs, 'sold'> {
  const others = plan.soldAt.flatMap((at) => {
    const rule = { pricePercent: at.pricePercent, discountMinor: at.lessMinor };
    const given = course?.concessions.find(({ label }) => label === at.label);
    if (course && !given) return [];
    const asRuled = !course || given?.priceMinor === soldPriceMinor(course.priceMinor, rule);
    const price = asRuled ? rule : { pricePercent: partOf(given?.priceMinor ?? 0, course.priceMinor) };
    const { label, sharePercent } = at;
    return [{ label, sharePercent, ...price, ...ownPayments(at.payments, course, given) }];
  });
  if (others.length === 0) return {};
  const rest = others.reduce((left, { sharePercent }) => left.minus(sharePercent), new Decimal(100));
  return { sold: [{ label: 'The full price', sharePercent: rest.toFixed() }, ...others] };
}

/** In how many payments a concession is paid, where that is not as everybody. */
function ownPayments(ofPlan: number | null, course: Course | null, given?: Course['concessions'][number]) {
  if (!course || !given) return ofPlan === null ? {} : { payments: ofPlan };
  const payments = paymentsFor(placeAt(course, given));
  return payments === paymentsFor(course) ? {} : { payments };
}

const PART_DECIMALS = 6;
const partOf = (minor: number, ofMinor: number) =>
  new Decimal(minor).times(100).div(ofMinor).toDecimalPlaces(PART_DECIMALS).toFixed();

/** The payments that the course asks for of a place at the full price; before there is a course, the plan's own assumption. */
export function paidIn(plan: Plan, course: Course | null): Pick<PriceInputs, 'payments' | 'paymentsSource'> {
  if (!course) {
    const detail = `The plan "${plan.name}" assumes so, until a course says it by its deposit and balance.`;
    return { payments: plan.payments, paymentsSource: { kind: 'assumption', detail } };
  }
  const payments = paymentsFor(course);
  return { payments, paymentsSource: { kind: 'plan', detail: inWords(course, payments) } };
}

function inWords({ depositMinor }: Course, payments: number): string {
  const asked = depositMinor === 0 ? 'it asks no deposit' : 'its deposit is the price';
  if (payments === 1) return `The course is paid at once: ${asked}.`;
  if (depositMinor === 0) return `The course asks no deposit, and its price in ${payments} payments.`;
  return `The course's deposit, and its balance${payments === 2 ? '' : ` in ${payments - 1} payments`}.`;
}

/** A part of a plan's price with its VAT, as the studio is registered today. */
export type PlanTaxPart = Pick<Plan['parts'][number], 'label' | 'sharePercent' | 'amountMinor'> & { tax: TaxTreatment };

/** What of the price bears another VAT than the rest. */
export async function getPlanTaxParts(tx: Transaction, plan: Plan, studio: Studio): Promise<PlanTaxPart[]> {
  const parts: PlanTaxPart[] = [];
  for (const { taxRateId, ...part } of plan.parts)
    parts.push({ ...part, tax: taxTreatmentOf(studio, await getTaxRate(tx, taxRateId)) });
  return parts;
}

export const vatPercentOf = (tax: TaxTreatment): string => (tax.kind === 'standard' ? tax.percent : '0');

/** The parts as the price reckons with them. */
export function pricePartsOf(taxed: readonly PlanTaxPart[]): Pick<PriceInputs, 'parts'> {
  const parts = taxed.map(({ label, sharePercent, amountMinor, tax }) => ({
    ...{ label, vatPercent: vatPercentOf(tax) },
    ...(sharePercent === null ? {} : { sharePercent }),
    ...(amountMinor === null ? {} : { amountMinor }),
  }));
  return parts.length === 0 ? {} : { parts };
}
