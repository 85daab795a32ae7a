import {
  coursePrice,
  type PriceInputs,
  type PriceResult,
  type ProfitTable,
  profitTableAt,
  type Sensitivity,
  sensitivities,
} from '../../../../trade/pricing/course-price.js';
import {
  type PrivateInputs,
  type PrivatePrices,
  privateProfitTableAt,
} from '../../../../trade/pricing/private-price.js';
import type { Schemas } from '../../../api/client';
import { applied, type WhatIf } from './what-if';

/** A price worked out in the browser, by the function that the server uses. */
export type Calculation = {
  inputs: PriceInputs;
  result: PriceResult;
  /** the price whose ladder is shown: what the owner asks, or the fair price */
  askedMinor: number;
  asked: ProfitTable;
  /** what the course is sold at, and what comes of that */
  soldMinor: number;
  sold: ProfitTable;
  /** what the fair price hangs on, the greatest effect first */
  sensitivities: Sensitivity[];
};

/** What the server has worked out of today's figures already; only what comes of the price it is sold at is added. */
export function todaysCalculation({ inputs, result, sensitivities, priceMinor }: Schemas['CoursePrice']): Calculation {
  const sold = profitTableAt(inputs, String(priceMinor));
  const askedMinor = result.fairPriceMinor;
  return { inputs, result, askedMinor, asked: result, soldMinor: priceMinor, sold, sensitivities };
}

/** @returns the sentence that says what to mend where the figures allow no price */
export function recalculate(inputs: PriceInputs, wanted: WhatIf, soldMinor: number): Calculation | { refusal: string } {
  try {
    const changed = applied(inputs, wanted);
    const result = coursePrice(changed);
    const askedMinor = wanted.priceMinor ?? result.fairPriceMinor;
    const at = (minor: number) => profitTableAt(changed, String(minor));
    return {
      ...{ inputs: changed, result, askedMinor, asked: at(askedMinor), soldMinor, sold: at(soldMinor) },
      sensitivities: sensitivities(changed),
    };
  } catch (error) {
    if (error instanceof RangeError) return { refusal: error.message };
    throw error;
  }
}

/** What a private session leaves at two prices, with the prices that it is of: those of a slider may have moved on. */
export const privateOutcome = (inputs: PrivateInputs, prices: PrivatePrices) => ({
  prices,
  ladder: privateProfitTableAt(inputs, prices),
});
