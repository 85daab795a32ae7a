import { decimalIn, wholeIn } from '../maths/number.js';
import { Decimal, roundHalfUp, splitInTurn } from './money.js';

/** How a line is taxed. Which one holds is the studio's choice, with its accountant: tuition may well be exempt. */
export type TaxTreatment = { kind: 'standard'; percent: string } | { kind: 'exempt' } | { kind: 'outside' };

function percentOf(tax: TaxTreatment): Decimal {
  return tax.kind === 'standard' ? decimalIn(tax.percent, 'The VAT rate in percent', 0, 100) : new Decimal(0);
}

function checkMoney(minor: number): number {
  return wholeIn(minor, 'An amount in minor units', -Number.MAX_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);
}

/**
 * The VAT that a gross price holds: gross * rate / (100 + rate). Half a penny goes up, as HMRC asks of prices that
 * include VAT (VATREC12030); a refund mirrors its charge. Net is gross less this, never rounded by itself.
 *
 * @param grossMinor whole minor units, of either sign
 * @throws RangeError on a rate outside 0..100 or an amount that is not whole
 */
export function vatInside(grossMinor: number, tax: TaxTreatment): number {
  const percent = percentOf(tax);
  return roundHalfUp(new Decimal(checkMoney(grossMinor)).times(percent).div(percent.plus(100)));
}

/**
 * The VAT in one payment of a price paid in parts: what is due on all paid so far, less what was due before. So the
 * parts add up to the VAT of the whole, where 40.00 + 40.00 by themselves would bear a penny more than 80.00.
 *
 * @param paidBeforeMinor what was paid before this part, gross
 * @param partMinor       this part, gross; negative where money goes back
 */
export function vatOfPart(paidBeforeMinor: number, partMinor: number, tax: TaxTreatment): number {
  return vatInside(paidBeforeMinor + partMinor, tax) - vatInside(paidBeforeMinor, tax);
}

/** So much of a price, and the tax that it bears. */
export type TaxedPart = { grossMinor: number; tax: TaxTreatment };
/** Of a payment, what one part of the price gets of it, and the VAT in that. */
export type PartPaid<Part> = { part: Part; amountMinor: number; vatMinor: number };

/**
 * What a payment pays of each part of a price whose parts bear different taxes: whatever is paid is for all of them, in proportion. Like
 * vatOfPart it is the difference of two sums, so it depends on how much was paid and not on how, a refund mirrors its payment, and all
 * payments of a price together bear the VAT of each part as a whole.
 *
 * @param parts           all of the price; each tax once, or its VAT would be rounded twice
 * @param paidBeforeMinor what was paid before, gross
 * @param sumMinor        paid now, gross; negative where money goes back
 * @returns one for each part, in order: none negative, or none positive where money goes back
 * @throws RangeError where less than nothing would be paid
 */
export function payParts<Part extends TaxedPart>(
  parts: readonly Part[],
  paidBeforeMinor: number,
  sumMinor: number,
): PartPaid<Part>[] {
  const weights = parts.map(({ grossMinor }) => grossMinor);
  const before = splitInTurn(paidBeforeMinor, weights);
  const after = splitInTurn(paidBeforeMinor + sumMinor, weights);
  return parts.map((part, i) => {
    const [from, to] = [before[i] ?? 0, after[i] ?? 0];
    return { part, amountMinor: to - from, vatMinor: vatOfPart(from, to - from, part.tax) };
  });
}

/** The VAT in a payment of a price, over all its parts; as in payParts. */
export function vatOfParts(parts: readonly TaxedPart[], paidBeforeMinor: number, sumMinor: number): number {
  return payParts(parts, paidBeforeMinor, sumMinor).reduce((sum, { vatMinor }) => sum + vatMinor, 0);
}

/** Whether two parts of a price bear one tax, so that their VAT is reckoned as one. */
export function sameTax(a: TaxTreatment, b: TaxTreatment): boolean {
  return a.kind === b.kind && (a.kind !== 'standard' || b.kind !== 'standard' || percentOf(a).eq(percentOf(b)));
}

/** The gross price for a net one, rounded once; its VAT is gross less net, so that the three agree. */
export function grossFromNet(netMinor: number, tax: TaxTreatment): number {
  return netMinor + roundHalfUp(new Decimal(checkMoney(netMinor)).times(percentOf(tax)).div(100));
}

/**
 * May a simplified invoice stand for this supply? The limit looks at the whole supply with VAT, not at the part that
 * is paid today (UK: 250.00, VAT Regulations 1995 reg 16A; EU: at least 100.00, Directive 2006/112/EC art. 220a).
 */
export function simplifiedInvoiceAllowed(supplyGrossMinor: number, limitMinor: number): boolean {
  return checkMoney(supplyGrossMinor) <= checkMoney(limitMinor);
}
