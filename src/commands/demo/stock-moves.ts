import { reclaimOfCourse } from '../../studio/courses/reclaims.js';
import { drawForCourse } from '../../studio/courses/service.js';
import { drawMaterial, receiveLot } from '../../studio/materials/service.js';
import { recordCount } from '../../studio/materials/stocktake.js';
import type { DemoContext } from './context.js';
import type { DemoEventOf } from './event-log.js';

type Moved =
  | DemoEventOf<'delivery'>
  | DemoEventOf<'draw'>
  | DemoEventOf<'reclaim'>
  | DemoEventOf<'waste'>
  | DemoEventOf<'count'>;

/** A line of stock.csv. */
export async function moveStock({ tx, now, names, shift }: DemoContext, entry: Moved): Promise<void> {
  const [materialId, { quantity }] = [names.id('material', entry.material), entry];
  if (entry.did === 'delivery') {
    const { supplier, costMinor } = entry;
    const receivedOn = shift.day(entry.at.slice(0, 10));
    await receiveLot(tx, now, { materialId, supplier, receivedOn, quantity, costMinor });
  } else if (entry.did === 'count')
    await recordCount(tx, now, { materialId, counted: quantity, explanation: entry.note });
  else if (entry.did === 'reclaim')
    await reclaimOfCourse(tx, now, names.id('course', entry.course), { materialId, quantity });
  else if (entry.did === 'draw' && entry.course !== '')
    await drawForCourse(tx, now, names.id('course', entry.course), { materialId, quantity });
  else
    await drawMaterial(tx, now, {
      materialId,
      quantity,
      note: entry.note,
      kind: entry.did === 'waste' ? 'wasted' : 'drawn',
    });
}
