import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { doubleRoutes } from './double-routes.js';
import { invariants } from './invariants.js';
import { mergeRoutes } from './routes.js';

export const noun: Noun = { routes: [mergeRoutes, doubleRoutes], invariants };
