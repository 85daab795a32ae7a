import type { FastifyPluginAsync } from 'fastify';
import { accountListsRoutes } from '../studio/accounts/list/routes.js';
import { reminderRoutes } from '../studio/accounts/reminders/routes.js';
import { accountsRoutes } from '../studio/accounts/routes.js';
import { voucherRoutes } from '../studio/accounts/vouchers/routes.js';
import { paymentsRoutes } from '../studio/bookings/payment-routes.js';
import { bookingsRoutes } from '../studio/bookings/routes.js';
import { courseResultsRoutes } from '../studio/course-results/routes.js';
import { coursesRoutes } from '../studio/courses/routes.js';
import { firingsRoutes } from '../studio/firings/routes.js';
import { importsRoutes } from '../studio/imports/routes.js';
import { kilnLoadsRoutes } from '../studio/kiln-loads/routes.js';
import { kilnEditRoutes } from '../studio/kilns/edit-routes.js';
import { kilnsRoutes } from '../studio/kilns/routes.js';
import { consignmentRoutes } from '../studio/materials/consignment-routes.js';
import { materialsRoutes } from '../studio/materials/routes.js';
import { supplierRoutes } from '../studio/materials/supplier-routes.js';
import { mixBatchRoutes } from '../studio/mixes/batch-routes.js';
import { mixPaperRoutes } from '../studio/mixes/document-routes.js';
import { mixesRoutes } from '../studio/mixes/routes.js';
import { noticesRoutes } from '../studio/notices/routes.js';
import { ordersRoutes } from '../studio/orders/routes.js';
import { peopleRoutes } from '../studio/people/routes.js';
import { pricingRoutes } from '../studio/pricing/routes.js';
import { reportsRoutes } from '../studio/reports/routes.js';
import { searchRoutes } from '../studio/reports/search/routes.js';
import { salesRoutes } from '../studio/sales/routes.js';
import { settingsEditRoutes } from '../studio/settings/edit-routes.js';
import { settingsRoutes } from '../studio/settings/routes.js';
import { staffMemberRoutes } from '../studio/staff/member-routes.js';
import { passwordRoutes } from '../studio/staff/password-routes.js';
import { staffRoutes } from '../studio/staff/routes.js';
import { tokenRoutes } from '../studio/staff/token-routes.js';
import { stockOutlookRoutes } from '../studio/stock-outlook/routes.js';
import { tilePhotoRoutes } from '../studio/tiles/photo-routes.js';
import { tilesRoutes } from '../studio/tiles/routes.js';
import { boardEditRoutes } from '../studio/ware/edit-routes.js';
import { wareRoutes } from '../studio/ware/routes.js';

/** Every noun of the studio, in the order in which they build on each other. */
const NOUNS = [
  settingsRoutes,
  settingsEditRoutes,
  peopleRoutes,
  staffRoutes,
  staffMemberRoutes,
  passwordRoutes,
  tokenRoutes,
  noticesRoutes,
  accountsRoutes,
  accountListsRoutes,
  voucherRoutes,
  reminderRoutes,
  materialsRoutes,
  supplierRoutes,
  consignmentRoutes,
  salesRoutes,
  kilnsRoutes,
  kilnEditRoutes,
  mixesRoutes,
  mixBatchRoutes,
  mixPaperRoutes,
  tilesRoutes,
  tilePhotoRoutes,
  coursesRoutes,
  bookingsRoutes,
  paymentsRoutes,
  wareRoutes,
  boardEditRoutes,
  firingsRoutes,
  pricingRoutes,
  kilnLoadsRoutes,
  stockOutlookRoutes,
  courseResultsRoutes,
  ordersRoutes,
  importsRoutes,
  reportsRoutes,
  searchRoutes,
];

export const studioRoutes: FastifyPluginAsync = async (app) => {
  for (const noun of NOUNS) await app.register(noun);
};
