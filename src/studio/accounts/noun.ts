import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { invariants } from './invariants.js';
import { accountListsRoutes } from './list/routes.js';
import { reminderRoutes } from './reminders/routes.js';
import { accountsRoutes } from './routes.js';
import { voucherEndRoutes } from './vouchers/end-routes.js';
import { voucherRoutes } from './vouchers/routes.js';

export const noun: Noun = {
  routes: [accountsRoutes, accountListsRoutes, voucherRoutes, voucherEndRoutes, reminderRoutes],
  invariants,
};
