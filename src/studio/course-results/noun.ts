import type { Noun } from '../../http/noun.js';
import { invariants } from './invariants.js';
import { courseResultsRoutes } from './routes.js';

export const noun: Noun = {
  routes: [courseResultsRoutes],
  invariants,
};
