import { wholeIn } from '../maths/number.js';
import { Decimal, roundHalfUp } from './money.js';

const MANY = 1_000_000;

/**
 * How many of the places that were given up are filled again: first those that nobody had yet are taken, then those given up, whichever
 * was given up first. So a place is filled again by a booking that could not have been made without it. Where everybody who cancelled
 * had stayed, and all who came since had come too, the course would need `taken` and all given up; what that is above its capacity
 * was had in the place of those who left, the first of them first.
 *
 * When a place that fills another is given up itself, `taken` falls by what `givenUp` grows, so that what was filled stays so.
 *
 * @param capacity places of the course
 * @param taken    places of those who have one now
 * @param givenUp  places of each booking that was cancelled, in the order of cancelling
 * @returns for each of these, how many of its places are filled again
 */
export function placesFilledAgain(capacity: number, taken: number, givenUp: readonly number[]): number[] {
  const needed = givenUp.reduce((sum, places) => sum + wholeIn(places, 'Places given up', 0, MANY), taken);
  let filled = Math.max(0, needed - wholeIn(capacity, 'The places of a course', 0, MANY));
  return givenUp.map((places) => {
    const here = Math.min(places, filled);
    filled -= here;
    return here;
  });
}

/**
 * What is due of a further refund once so many of a booking's places are filled again: its part of them, half a penny up; all of it
 * with the last. What has been given for earlier ones is to be taken off.
 */
export function partFilledMinor(furtherMinor: number, filled: number, places: number): number {
  return roundHalfUp(new Decimal(furtherMinor).times(filled).div(places));
}
