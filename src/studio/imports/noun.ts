import type { Noun } from '../../http/noun.js';
import { importsRoutes } from './routes.js';

export const noun: Noun = {
  routes: [importsRoutes],
};
