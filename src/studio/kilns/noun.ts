import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { kilnEditRoutes } from './edit-routes.js';
import { kilnsRoutes } from './routes.js';

export const noun: Noun = {
  routes: [kilnsRoutes, kilnEditRoutes],
};
