import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { changeRoutes } from './change-routes.js';
import { feeRoutes } from './fee-routes.js';
import { invariants } from './invariants.js';
import { membershipCron, membershipTasks } from './jobs.js';
import { kindRoutes } from './kind-routes.js';
import { membershipRoutes } from './routes.js';
import { useRoutes } from './use/routes.js';

export const noun: Noun = {
  routes: [kindRoutes, feeRoutes, membershipRoutes, changeRoutes, useRoutes],
  invariants,
  tasks: ({ db, now }) => membershipTasks(db, now),
  cron: membershipCron,
};
