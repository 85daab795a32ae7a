import { completeAndNotify } from '../../studio/bookings/completion.js';
import { recordHours } from '../../studio/course-results/hours.js';
import { announceReady } from '../../studio/firings/service.js';
import { saveQuote } from '../../studio/pricing/service.js';
import { bookDemoPlaces, cancel, pay, sellDemoVoucher } from './bookings.js';
import type { DemoContext } from './context.js';
import { cancelDemoCourse, cancelDemoSession, moveDemoSession } from './course-changes.js';
import type { DemoEvent } from './event-log.js';
import { fire, unload } from './firings.js';
import { joinMembers, payMembership } from './memberships.js';
import { placeDemoOrder, receive } from './orders.js';
import { bringBack, takeHome } from './sales.js';
import { moveStock } from './stock-moves.js';
import { collect, glaze, note, takeInDemoWare } from './ware.js';

/** Lives through one entry of the year, at its own time, by the same services that the API calls. */
export async function replayEvents(page: DemoContext, entry: DemoEvent): Promise<void> {
  switch (entry.did) {
    case 'book':
      return bookDemoPlaces(page, entry);
    case 'pay':
      return pay(page, entry);
    case 'cancel':
      return cancel(page, entry);
    case 'joinMembers':
      return joinMembers(page, entry);
    case 'payMembership':
      return payMembership(page, entry);
    case 'cancelCourse':
      return cancelDemoCourse(page, entry);
    case 'cancelSession':
      return cancelDemoSession(page, entry);
    case 'moveSession':
      return moveDemoSession(page, entry);
    case 'voucher':
      return sellDemoVoucher(page, entry);
    case 'delivery':
    case 'draw':
    case 'reclaim':
    case 'waste':
    case 'count':
      return moveStock(page, entry);
    case 'order':
      return placeDemoOrder(page, entry);
    case 'receive':
      return receive(page, entry);
    case 'takeHome':
      return takeHome(page, entry);
    case 'bringBack':
      return bringBack(page, entry);
    case 'hours':
      await recordHours(page.tx, page.now, page.names.id('course', entry.course), {
        ...{ what: entry.what, minutes: entry.minutes, note: entry.note },
        on: page.shift.day(entry.at.slice(0, 10)),
      });
      return;
    case 'price':
      await saveQuote(page.tx, page.now, page.names.id('course', entry.course));
      return;
    case 'intake':
      return takeInDemoWare(page, entry);
    case 'glaze':
      return glaze(page, entry);
    case 'note':
      return note(page, entry);
    case 'collect':
      return collect(page, entry);
    case 'fire':
      return fire(page, entry);
    case 'unload':
      return unload(page, entry);
    case 'complete':
      await completeAndNotify(page.tx, page.now, page.names.id('course', entry.course));
      return;
    case 'announce':
      await announceReady(page.tx, page.now, {});
      return;
  }
}
