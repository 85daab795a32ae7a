import { reclaimOfCourse } from '../../studio/courses/reclaims.js';
import { drawForCourse } from '../../studio/courses/service.js';
import { draw, receiveLot } from '../../studio/materials/service.js';
import { count } from '../../studio/materials/stocktake.js';
import type { Page } from './context.js';
import type { EntryOf } from './event-log.js';

type Moved = EntryOf<'delivery'> | EntryOf<'draw'> | EntryOf<'reclaim'> | EntryOf<'waste'> | EntryOf<'count'>;

/** A line of stock.csv. */
export async function move({ tx, now, names, shift }: Page, entry: Moved): Promise<void> {
  const [materialId, { quantity }] = [names.id('material', entry.material), entry];
  if (entry.did === 'delivery') {
    const { supplier, costMinor } = entry;
    const receivedOn = shift.day(entry.at.slice(0, 10));
    await receiveLot(tx, now, { materialId, supplier, receivedOn, quantity, costMinor });
  } else if (entry.did === 'count') await count(tx, now, { materialId, counted: quantity, explanation: entry.note });
  else if (entry.did === 'reclaim')
    await reclaimOfCourse(tx, now, names.id('course', entry.course), { materialId, quantity });
  else if (entry.did === 'draw' && entry.course !== '')
    await drawForCourse(tx, now, names.id('course', entry.course), { materialId, quantity });
  else
    await draw(tx, now, { materialId, quantity, note: entry.note, kind: entry.did === 'waste' ? 'wasted' : 'drawn' });
}
