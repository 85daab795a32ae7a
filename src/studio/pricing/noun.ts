import type { Noun } from '../../http/noun.js';
import { invariants } from './invariants.js';
import { pricingCron, pricingTasks } from './jobs.js';
import { pricingRoutes } from './routes.js';

export const noun: Noun = {
  routes: [pricingRoutes],
  invariants,
  tasks: ({ db, now }) => pricingTasks(db, now),
  cron: pricingCron,
};
