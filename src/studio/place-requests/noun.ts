import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { answerRoutes } from './answer-routes.js';
import { invariants } from './invariants.js';
import { placeRequestCron, placeRequestTasks } from './jobs.js';
import { askingRoutes } from './public-routes.js';
import { placeRequestRoutes } from './routes.js';

export const noun: Noun = {
  routes: [askingRoutes, placeRequestRoutes, answerRoutes],
  invariants,
  tasks: ({ db, now }) => placeRequestTasks(db, now),
  cron: placeRequestCron,
};
