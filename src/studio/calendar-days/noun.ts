import type { Noun } from '../../http/noun.js';
import { calendarDaysRoutes } from './routes.js';

export const noun: Noun = {
  routes: [calendarDaysRoutes],
};
