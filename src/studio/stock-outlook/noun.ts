import type { Noun } from '../../http/noun.js';
import { stockOutlookRoutes } from './routes.js';

export const noun: Noun = {
  routes: [stockOutlookRoutes],
};
