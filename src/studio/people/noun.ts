import type { Noun } from '../../http/noun.js';
import { peopleRoutes } from './routes.js';

export const noun: Noun = {
  routes: [peopleRoutes],
};
