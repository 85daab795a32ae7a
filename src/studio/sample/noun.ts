import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { sampleRoutes } from './routes.js';

export const noun: Noun = {
  routes: [sampleRoutes],
};
