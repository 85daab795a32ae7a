import type { Transaction } from '../../database/transaction.js';
import { addDays } from '../../trade/calendar/calendar.js';
import { listRefundsDue } from '../bookings/further-refund.js';
import { listLapsedHolds } from '../bookings/queries.js';
import { getStudio } from '../settings/service.js';
import { boardsOf, collectionOf } from './boards.js';
import type { Today } from './contract.js';
import { dayNamed, dayOf } from './day.js';
import { debtsOf } from './debts.js';
import { askingFirings, firingsOf, hazardsInKilns, listKilnsWithFirings } from './firings.js';
import { mailOf } from './mail.js';
import { shelfOf } from './orders.js';
import { shownPiece } from './pieces.js';
import { listStandingPieces } from './queries.js';
import { sessionsOf } from './sessions.js';

/**
 * What must happen on the studio's day in which `now` lies, by its own clock.
 *
 * @param seesMoney debts and mail are left out for who may not, and so is a firing whose cost alone is still to be reckoned
 * @throws Problem set-up-missing
 */
export async function getToday(tx: Transaction, now: Date, seesMoney: boolean): Promise<Today> {
  const studio = await getStudio(tx);
  const { timeZone } = studio;
  const its = dayOf(now, timeZone);
  const lapsed = (await listLapsedHolds(tx, now)).map(({ id }) => id);
  const { kilns, open } = await listKilnsWithFirings(tx);
  const asking = askingFirings(open, dayNamed(addDays(its.day, 1), timeZone).endsAt);
  const toDo = seesMoney ? asking : asking.filter(({ state }) => state !== 'unloaded');
  const standing = await listStandingPieces(
    tx,
    toDo.map(({ id }) => id),
    its.day,
    timeZone,
  );
  const shown = new Map(standing.map((piece) => [piece.id, shownPiece(piece, studio)]));
  return {
    day: its.day,
    now: now.toISOString(),
    ...(await sessionsOf(tx, now, its, studio, lapsed)),
    firings: firingsOf(toDo, now, its, shown, await hazardsInKilns(tx, toDo, studio.locale)),
    kilns,
    boards: await boardsOf(tx, now, studio, { standing, open, lapsed }),
    collection: collectionOf(standing),
    ...(await shelfOf(tx, now, { today: its.day, lapsed })),
    debts: seesMoney ? await debtsOf(tx, its.day) : null,
    refundsDue: seesMoney ? await listRefundsDue(tx) : null,
    mail: seesMoney ? await mailOf(tx, its, timeZone) : null,
  };
}
