import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { guardianRoutes } from './guardian-routes.js';
import { peopleRoutes } from './routes.js';

export const noun: Noun = {
  routes: [peopleRoutes, guardianRoutes],
};
