import type { Noun } from '../../http/noun.js';
import { enrolmentOutlookRoutes } from './routes.js';

export const noun: Noun = {
  routes: [enrolmentOutlookRoutes],
};
