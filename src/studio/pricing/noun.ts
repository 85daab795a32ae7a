import type { Noun } from '../../http/noun.js';
import { pricingRoutes } from './routes.js';

export const noun: Noun = {
  routes: [pricingRoutes],
};
