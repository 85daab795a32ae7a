import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { assumptionsRoutes } from './assumptions-routes.js';
import { closuresRoutes } from './closures-routes.js';
import { settingsEditRoutes } from './edit-routes.js';
import { logoRoutes } from './logo-routes.js';
import { settingsRoutes } from './routes.js';

export const noun: Noun = {
  routes: [settingsRoutes, settingsEditRoutes, assumptionsRoutes, logoRoutes, closuresRoutes],
};
