import type { Noun } from '../../http/noun.js';
import { invariants } from './invariants.js';
import { noticeTasks } from './jobs.js';
import { noticesRoutes } from './routes.js';

export const noun: Noun = {
  routes: [noticesRoutes],
  invariants,
  tasks: noticeTasks,
};
