import type { Noun } from '../../http/noun.js';
import { pricingCron, pricingTasks } from './jobs.js';
import { WRONG_ENROLMENTS } from './queries.js';
import { pricingRoutes } from './routes.js';

export const noun: Noun = {
  routes: [pricingRoutes],
  invariants: [{ name: 'a noted enrolment is that of the bookings', sql: WRONG_ENROLMENTS }],
  tasks: ({ db, now }) => pricingTasks(db, now),
  cron: pricingCron,
};
