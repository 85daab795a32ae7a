import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { consignmentRoutes } from './consignment-routes.js';
import { invariants } from './invariants.js';
import { materialsRoutes } from './routes.js';
import { supplierRoutes } from './supplier-routes.js';

export const noun: Noun = {
  routes: [materialsRoutes, supplierRoutes, consignmentRoutes],
  invariants,
};
