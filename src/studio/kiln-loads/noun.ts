import type { Noun } from '../../http/noun.js';
import { kilnLoadsRoutes } from './routes.js';

export const noun: Noun = {
  routes: [kilnLoadsRoutes],
};
