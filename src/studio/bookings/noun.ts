import './refusals.js'; // first, since routes name them as they load

import type { Noun } from '../../http/noun.js';
import { attendanceRoutes } from './attendance-routes.js';
import { bookRoutes } from './book-routes.js';
import { encloseInvitations } from './calendar-entries/enclose.js';
import { courseCancellationRoutes } from './cancel-course/routes.js';
import { cancellationRoutes } from './cancellation-routes.js';
import { careRoutes } from './care/routes.js';
import { consentRoutes } from './consents/routes.js';
import { groupRoutes } from './groups/routes.js';
import { invariants } from './invariants.js';
import { bookingCron, bookingTasks } from './jobs.js';
import { makeUpRemovalRoutes } from './make-ups/removal-routes.js';
import { makeUpRoutes } from './make-ups/routes.js';
import { moveRoutes } from './move-routes.js';
import { nameRoutes } from './names/name-routes.js';
import { bookingNoteRoutes } from './names/note-routes.js';
import { paymentsRoutes } from './payment-routes.js';
import { refundRoutes } from './refund-routes.js';
import { bookingsRoutes } from './routes.js';
import { addingRoutes } from './sessions/add-routes.js';
import { sessionCancellationRoutes } from './sessions/cancel-routes.js';
import { movingRoutes } from './sessions/move-routes.js';
import { remainingRoutes } from './sessions/remaining-routes.js';
import { acceptanceRoutes } from './waiting-list/acceptance-routes.js';
import { offerRoutes } from './waiting-list/offer-routes.js';
import { waitingListRoutes } from './waiting-list/routes.js';

export const noun: Noun = {
  routes: [
    ...[
      attendanceRoutes,
      movingRoutes,
      remainingRoutes,
      addingRoutes,
      sessionCancellationRoutes,
      bookRoutes,
      bookingsRoutes,
      cancellationRoutes,
      refundRoutes,
      paymentsRoutes,
    ],
    courseCancellationRoutes,
    ...[nameRoutes, bookingNoteRoutes],
    ...[moveRoutes, careRoutes, consentRoutes, groupRoutes, makeUpRoutes, makeUpRemovalRoutes],
    ...[waitingListRoutes, offerRoutes, acceptanceRoutes],
  ],
  invariants,
  tasks: ({ db, now }) => bookingTasks(db, now),
  encloses: [encloseInvitations],
  cron: bookingCron,
};
