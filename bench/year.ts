import { addDays } from '../src/trade/calendar/calendar.js';
import { type Demand, distributionOfFurtherBookings } from '../src/trade/stock/demand.js';
import type { StockOnHand } from '../src/trade/stock/outlook.js';

const COURSES = 100;
const FIRST_DAY = '2026-01-05';
const PLACES = 12;

/** Numbers that look like chance and are the same each time (Lehmer, multiplier 48271; Park and Miller 1993, from memory). */
function dice(seed: number) {
  let state = seed;
  return (below: number) => {
    state = (state * 48_271) % 2_147_483_647;
    return state % below;
  };
}

/**
 * The shelf of a busy year: a hundred courses of three sessions over twelve months. Each draws one of two clays, two of ten usual
 * glazes, and three of all the rest, so that few materials have many courses, as on a real shelf.
 *
 * @param eachUnits a student draws at most so much of a material, in its units
 * @param dense     each course draws every material: no shelf has more to work out
 */
export function shelfOfAYear(materials: number, { eachUnits = 1500, dense = false } = {}): StockOnHand[] {
  const roll = dice(20_260_105);
  const demands: Demand[][] = Array.from({ length: materials }, () => []);
  for (let course = 0; course < COURSES; course++) {
    const begins = addDays(FIRST_DAY, Math.floor((course * 340) / COURSES));
    const booked = roll(8);
    const shared = {
      booked,
      more: distributionOfFurtherBookings(PLACES, booked, '7', '3'),
    };
    const sessions = [0, 7, 21].map((days) => ({ day: addDays(begins, days), weight: 150 }));
    const usual = [roll(2), 2 + roll(10), 2 + roll(10), ...Array.from({ length: 3 }, () => roll(materials))];
    for (const material of dense ? demands.keys() : new Set(usual))
      demands[material]?.push({ ...shared, draws: [{ perStudent: String(1 + roll(eachUnits)), drawn: 0, sessions }] });
  }
  return demands.map((of) => ({
    onHand: roll(eachUnits * 400),
    arrivals: [],
    demands: of,
    packQuantity: 5000,
    leadTimeDays: 5,
  }));
}
