import type { Noun } from '../../http/noun.js';
import { mixBatchRoutes } from './batch-routes.js';
import { mixPaperRoutes } from './document-routes.js';
import { invariants } from './invariants.js';
import { mixesRoutes } from './routes.js';

export const noun: Noun = {
  routes: [mixesRoutes, mixBatchRoutes, mixPaperRoutes],
  invariants,
};
