import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { invariants } from './invariants.js';
import { staffTasks } from './jobs.js';
import { staffMemberRoutes } from './member-routes.js';
import { passwordRoutes } from './password-routes.js';
import { staffRoutes } from './routes.js';
import { tokenRoutes } from './token-routes.js';

export const noun: Noun = {
  routes: [staffRoutes, staffMemberRoutes, passwordRoutes, tokenRoutes],
  invariants,
  tasks: staffTasks,
};
