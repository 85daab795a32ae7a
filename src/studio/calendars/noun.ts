import type { Noun } from '../../http/noun.js';
import { calendarRoutes } from './routes.js';

export const noun: Noun = {
  routes: [calendarRoutes],
};
