/** Where a rate came from: `detail` is a sentence for the owner ("Clay lot of 3 March, carriage included."). */
export interface CostSource {
  kind: 'lot' | 'meter' | 'tariff' | 'setting' | 'plan' | 'assumption';
  detail: string;
}

/** One line of what a course costs: quantity * rate. `if-cancelled` is what is lost when too few book. */
export interface CostLine {
  key: string;
  label: string;
  basis: 'per-student' | 'per-course' | 'if-cancelled';
  /** decimal string, per student or per course, in `unit` */
  quantity: string;
  unit: string;
  /** decimal string: minor units of money per one `unit` */
  rateMinor: string;
  source: CostSource;
}

/**
 * All that a course's price depends on. Money is in minor units; percentages, hours, quantities and rates are decimal
 * strings, so that the same JSON gives the same price in the server and in the browser.
 */
export interface PriceInputs {
  currency: string;
  /** 1..200 */
  places: number;
  /** with fewer bookings on the decision day the course isn't held and fees go back; 1..places */
  minimum: number;
  /** how many book, as learnt from past courses, the cancelled ones included; see betaBinomial */
  enrolment: { alpha: string; beta: string; source: CostSource };
  /** VAT inside the price; '0' where exempt or not registered */
  vatPercent: string;
  /** what the card company takes: a percentage of the gross price, and a sum for each payment */
  cardPercent: string;
  cardFixedMinor: number;
  /** in how many payments a student pays */
  payments: number;
  lines: CostLine[];
  /** all of the owner's: teaching, preparing, clearing, loading and unloading, messages */
  ownerHours: string;
  ownerHoursPerStudent: string;
  wagePerHourMinor: number;
  /** a helper's fee, due with more than `above` students */
  secondTutor: { feeMinor: number; above: number } | null;
  /** what should be left, on average, when every cost and the owner's wage are paid */
  targetSurplusMinor: number;
  /** a course that is held and pays the owner less than this an hour is a poor one ... */
  payFloorPerHourMinor: number;
  /** ... and the probability of a poor one should not exceed this, 0..1 */
  poorAtMost: string;
  /** the price is rounded up to a multiple of this */
  priceStepMinor: number;
}
