import type { FiringKind } from '../firing/kiln-room.js';

/** Where a rate came from: `detail` is a sentence for the owner ("Clay lot of 3 March, carriage included."). */
export interface CostSource {
  kind: 'lot' | 'meter' | 'tariff' | 'setting' | 'plan' | 'history' | 'assumption';
  detail: string;
}

export type MaterialUse = 'clay' | 'glaze' | 'other';

/** A firing of a plan: which programme in which kiln. */
export interface PlannedFiring {
  kilnId: string;
  scheduleId: string;
  kind: FiringKind;
}

/**
 * What a cost line pays for, by which everything tells it from the others.
 *
 * A material's reclaim is a line of its own, which takes off what comes back. A firing is paid by each student's share of a load, or by
 * whole loads; which firing it was is not known of a price saved before lines had kinds, where the plan has it no longer.
 */
export type CostKind =
  | { kind: 'material'; materialId: string; use: MaterialUse; isReclaim: boolean }
  | { kind: 'firing'; firing: PlannedFiring | null; wholeLoads: boolean }
  | { kind: 'room' | 'advertising' | 'sunk' | 'input-vat' };

/** One line of what a course costs: quantity * rate. `if-cancelled` is what is lost when too few book. */
export type CostLine = CostAmount & CostKind;

interface CostAmount {
  /** which line it is, among those of its price and in another price of the course; nothing else follows from it */
  key: string;
  label: string;
  basis: 'per-student' | 'per-course' | 'if-cancelled';
  /** decimal string, per student or per course, in `unit`; below zero for what comes back as reclaim, and only there */
  quantity: string;
  unit: string;
  /** decimal string: minor units of money per one `unit` */
  rateMinor: string;
  /** of what is made again, how much gets as far as this: decimal string in percent; none of it where left out, all of a clay's */
  reachPercent?: string;
  /** what of that rate is electricity, for a firing; without it, all of a firing's rate counts as such */
  electricityMinor?: string;
  source: CostSource;
}

/** A price between: in which part of the places it is paid, and how it follows from the full price. */
export interface SoldAt {
  label: string;
  /** decimal string; those of all prices make 100 */
  sharePercent: string;
  /** decimal string, of the full price; 100 where left out */
  pricePercent?: string;
  /** a sum less than that */
  discountMinor?: number;
  /** in how many payments; as everybody, where left out */
  payments?: number;
}

/** What of a price bears another VAT than the rest, such as materials sold with tuition that is exempt. */
export interface PricePart {
  label: string;
  /** decimal string; '0' where exempt or outside the tax's scope */
  vatPercent: string;
  /** decimal string: so much of whatever is paid ... */
  sharePercent?: string;
  /** ... or a fixed gross sum of every place */
  amountMinor?: number;
}

/** What should be left for each hour of teaching: preparing and clearing earn their wage, but nothing beyond it. */
export interface SurplusPerHour {
  rateMinor: number;
  /** decimal string: the hours of all sessions */
  teachingHours: string;
}

/**
 * All that a course's price depends on. Money is in minor units; percentages, hours, quantities and rates are decimal
 * strings, so that the same JSON gives the same price in the server and in the browser.
 */
export interface PriceInputs {
  currency: string;
  /** 1..200 */
  places: number;
  /** with fewer bookings on the decision day the course isn't held and fees go back; 0 is open studio, held with nobody too */
  minimum: number;
  /** how many book, as learnt from past courses, the cancelled ones included; see betaBinomial */
  enrolment: { alpha: string; beta: string; source: CostSource };
  /** the most for which the room has benches; none is known where left out */
  mostPlaces?: number;
  /** at which prices it is sold, in proportion; everybody pays the full price where left out */
  sold?: SoldAt[];
  /** VAT inside the price; '0' where exempt or not registered */
  vatPercent: string;
  /** what of the price bears another VAT; nothing where left out */
  parts?: PricePart[];
  /** what the card company takes: a percentage of the gross price, and a sum for each payment */
  cardPercent: string;
  cardFixedMinor: number;
  /** in how many payments a student pays, and how that is known */
  payments: number;
  paymentsSource?: CostSource;
  lines: CostLine[];
  /** what is made again, in percent of the pieces, as it is in the quantities of all that it reaches */
  remakesPercent?: string;
  /** all of the owner's: teaching, preparing, clearing, loading and unloading, messages */
  ownerHours: string;
  ownerHoursPerStudent: string;
  wagePerHourMinor: number;
  /** a helper's fee, due with more than `above` students */
  secondTutor: { feeMinor: number; above: number } | null;
  /** what should be left, on average, when every cost and the owner's wage are paid */
  targetSurplusMinor: number;
  /** how that sum came about; a price saved before the surplus was asked for by the hour has none */
  surplusPerHour?: SurplusPerHour;
  /** a course that is held and pays the owner less than this an hour is a poor one ... */
  payFloorPerHourMinor: number;
  /** ... and the probability of a poor one should not exceed this, 0..1 */
  poorAtMost: string;
  /** the price is rounded up to a multiple of this */
  priceStepMinor: number;
}
