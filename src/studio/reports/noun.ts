import type { Noun } from '../../http/noun.js';
import { reportsRoutes } from './routes.js';
import { searchRoutes } from './search/routes.js';

export const noun: Noun = {
  routes: [reportsRoutes, searchRoutes],
};
