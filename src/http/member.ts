import type { FastifyRequest } from 'fastify';
import { Problem } from '../problems.js';

/** Who of the staff asks, or in whose name a token does. @throws Problem signed-out */
export function memberOf({ caller }: Pick<FastifyRequest, 'caller'>) {
  if (!caller) throw new Problem('signed-out', 'Sign in first.');
  return caller;
}
