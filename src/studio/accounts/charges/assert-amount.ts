import { moneyInText } from '../../../documents/words.js';
import { MINOR_MAX } from '../../../http/types.js';
import { Problem } from '../../../problems.js';
import type { Studio } from '../../settings/contract.js';

/**
 * What is asked for or paid at once stays within the limit of one amount, also where it is a sum of several: it could be kept
 * otherwise, and then never be shown.
 * @throws Problem invalid-request
 */
export function assertAmount(minor: number, studio: Pick<Studio, 'currency' | 'locale'>): void {
  if (minor <= MINOR_MAX) return;
  const limit = moneyInText(studio)(MINOR_MAX);
  throw new Problem('invalid-request', `That comes to more than ${limit}, the most that is booked at once. Split it.`);
}
