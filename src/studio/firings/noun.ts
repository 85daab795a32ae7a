import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { collectionRoutes } from './collection-routes.js';
import { invariants } from './invariants.js';
import { moneyRoutes } from './money-routes.js';
import { firingsRoutes } from './routes.js';
import { settlementRoutes } from './settlement-routes.js';

export const noun: Noun = {
  routes: [firingsRoutes, settlementRoutes, moneyRoutes, collectionRoutes],
  invariants,
};
