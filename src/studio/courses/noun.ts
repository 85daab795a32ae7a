import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { courseChangeRoutes } from './change-routes.js';
import { extraPlaceRoutes } from './extra-place-routes.js';
import { invariants } from './invariants.js';
import { planRetirementRoutes } from './retirement-routes.js';
import { coursesRoutes } from './routes.js';
import { courseSeriesRoutes } from './series-routes.js';

export const noun: Noun = {
  routes: [coursesRoutes, courseChangeRoutes, courseSeriesRoutes, extraPlaceRoutes, planRetirementRoutes],
  invariants,
};
