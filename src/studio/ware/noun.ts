import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { boardEditRoutes } from './edit-routes.js';
import { invariants } from './invariants.js';
import { wareRoutes } from './routes.js';

export const noun: Noun = {
  routes: [wareRoutes, boardEditRoutes],
  invariants,
};
