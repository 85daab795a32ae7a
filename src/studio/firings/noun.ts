import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { invariants } from './invariants.js';
import { collectionRoutes, moneyRoutes, settlementRoutes } from './money-routes.js';
import { firingsRoutes } from './routes.js';

export const noun: Noun = {
  routes: [firingsRoutes, settlementRoutes, moneyRoutes, collectionRoutes],
  invariants,
};
