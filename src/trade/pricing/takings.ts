import { decimalIn, wholeIn } from '../maths/number.js';
import { Decimal, roundHalfUp } from '../money/money.js';
import { MAX_MINOR, parseMinor } from '../money/money-limits.js';
import type { PriceInputs, SoldAt } from './price-inputs.js';

/**
 * What one student brings on average, at the full price P: they pay paidPart P - discountMinor, and of that the course
 * keeps keptPart P + keptPlusMinor when VAT and the card company's percentage are taken off. Linear where discounts
 * are percentages, affine where they are sums, so that every price that follows keeps its closed form.
 */
export interface Takings {
  paidPart: Decimal;
  discountMinor: Decimal;
  /** what the card company takes of each unit paid, and for its payments together */
  cardPart: Decimal;
  cardFixedMinor: Decimal;
  keptPart: Decimal;
  keptPlusMinor: Decimal;
  /** below this full price somebody would pay less than nothing */
  leastMinor: Decimal;
}

const ALL = new Decimal(100);

/** What of the inputs says how a price is paid, and what of it goes to others. */
type Paid = Pick<PriceInputs, 'cardPercent' | 'cardFixedMinor' | 'payments' | 'vatPercent' | 'sold' | 'parts'>;

/** @throws RangeError with a sentence that says what to mend */
export function readTakings(inputs: Paid): Takings {
  const cardPart = decimalIn(inputs.cardPercent, "The card company's percentage", 0, 100).div(100);
  const { leftPart, plusMinor, leastPaidMinor } = readVat(inputs);
  const sold = readSold(inputs);
  const mean = (of: (at: (typeof sold)[number]) => Decimal) =>
    sold.reduce((sum, at) => sum.plus(of(at).times(at.share)), new Decimal(0));

  const paidPart = mean((at) => at.pricePart);
  const discountMinor = mean((at) => at.discountMinor);
  if (paidPart.isZero()) throw new RangeError('Nobody would pay for this course. Let some pay a part of the price.');
  const kept = leftPart.minus(cardPart);
  if (kept.lte(0)) {
    throw new RangeError('VAT and the card company together take the whole price. Lower one of the two percentages.');
  }
  return {
    ...{ paidPart, discountMinor, cardPart },
    cardFixedMinor: mean((at) => at.cardFixedMinor),
    keptPart: kept.times(paidPart),
    keptPlusMinor: plusMinor.minus(kept.times(discountMinor)),
    leastMinor: Decimal.max(...sold.map((at) => leastFull(at, leastPaidMinor))),
  };
}

/** What each price comes to, in whole minor units, where the full price is this; none where everybody pays the full one. */
export function soldPrices(inputs: PriceInputs, fullMinor: number): { label: string; priceMinor: number }[] {
  return (inputs.sold ?? []).map((at) => ({ label: at.label, priceMinor: soldPriceMinor(fullMinor, at) }));
}

/** A price between, rounded once to whole minor units. */
export function soldPriceMinor(
  fullMinor: number,
  { pricePercent = '100', discountMinor = 0 }: Pick<SoldAt, 'pricePercent' | 'discountMinor'>,
): number {
  return roundHalfUp(new Decimal(fullMinor).times(pricePercent).div(100).minus(discountMinor));
}

/** The full price at which this one still is what must be paid at least. */
function leastFull({ pricePart, discountMinor }: { pricePart: Decimal; discountMinor: Decimal }, least: Decimal) {
  const needed = discountMinor.plus(least);
  if (needed.isZero()) return needed;
  return pricePart.isZero() ? new Decimal(Number.POSITIVE_INFINITY) : needed.div(pricePart);
}

/** What is left without VAT of each unit paid, and what a fixed part makes more or less of it by having its own VAT. */
function readVat(inputs: Paid) {
  const netPart = (vatPercent: string, of: string) => ALL.div(decimalIn(vatPercent, of, 0, 100).plus(100));
  const rest = netPart(inputs.vatPercent, 'VAT in percent');
  let [leftPart, plusMinor, ofTheRest, fixedMinor] = [rest, new Decimal(0), new Decimal(1), 0];
  for (const { label, vatPercent, sharePercent = '0', amountMinor = 0 } of inputs.parts ?? []) {
    const more = netPart(vatPercent, `VAT on "${label}" in percent`).minus(rest);
    const share = decimalIn(sharePercent, `The share of "${label}" in percent`, 0, 100).div(100);
    leftPart = leftPart.plus(more.times(share));
    plusMinor = plusMinor.plus(more.times(parseMinor(amountMinor, `"${label}"`)));
    ofTheRest = ofTheRest.minus(share);
    fixedMinor += amountMinor;
  }
  if (ofTheRest.lt(0) || (ofTheRest.isZero() && fixedMinor > 0)) {
    throw new RangeError('The parts with a VAT of their own are more than the price. Lower their shares.');
  }
  return {
    leftPart,
    plusMinor,
    leastPaidMinor: fixedMinor === 0 ? new Decimal(0) : new Decimal(fixedMinor).div(ofTheRest),
  };
}

const FULL_PRICE = [{ label: 'The full price', sharePercent: '100' }];

function readSold(inputs: Paid) {
  const cardFixed = parseMinor(inputs.cardFixedMinor, 'The card fee for each payment');
  wholeIn(inputs.payments, 'Payments', 0, 100);
  const sold = (inputs.sold ?? FULL_PRICE).map(
    ({
      label,
      sharePercent,
      pricePercent = '100',
      discountMinor = 0,
      payments = inputs.payments,
    }: NonNullable<PriceInputs['sold']>[number]) => ({
      share: decimalIn(sharePercent, `The share of places at "${label}" in percent`, 0, 100).div(100),
      pricePart: decimalIn(pricePercent, `What is paid at "${label}" in percent of the full price`, 0, 100).div(100),
      discountMinor: new Decimal(wholeIn(discountMinor, `The discount at "${label}", in minor units,`, 0, MAX_MINOR)),
      cardFixedMinor: new Decimal(cardFixed).times(wholeIn(payments, `Payments at "${label}"`, 0, 100)),
    }),
  );
  const shares = sold.reduce((sum, { share }) => sum.plus(share), new Decimal(0));
  if (!shares.eq(1)) {
    throw new RangeError(`The shares of places at each price make ${shares.times(100)}%. Let them make 100%.`);
  }
  return sold;
}
