import type { Noun } from '../../http/noun.js';
import { publicRoutes } from './public-routes.js';
import { webPageRoutes } from './routes.js';

export const noun: Noun = {
  routes: [webPageRoutes, publicRoutes],
};
