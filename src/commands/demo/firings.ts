import {
  addReading,
  billFiring,
  loadFiring,
  planFiring,
  settleFiring,
  startFiring,
  unloadFiring,
} from '../../studio/firings/service.js';
import { failFiring } from '../../studio/firings/unloading.js';
import type { DemoContext } from './context.js';
import type { DemoEventOf, DemoFiring } from './event-log.js';

const PIECES_TO_A_LAYER = 6;
const called = ({ kiln, start }: DemoFiring) => `${kiln} ${start}`;

/** Plans a firing and, where ware goes into it, loads and starts it; its boards hand over all that waits for such a firing. */
export async function fire({ tx, now, names, shift }: DemoContext, { firing }: DemoEventOf<'fire'>): Promise<void> {
  const start = shift.moment(firing.start);
  const scheduleId = names.id('schedule', firing.schedule);
  const id = await planFiring(tx, now, {
    kilnId: names.id('kiln', firing.kiln),
    scheduleId,
    plannedFrom: start.toISOString(),
    plannedTo: shift.moment(firing.unload).toISOString(),
    labourMinutes: firing.labourMinutes,
  });
  names.keep('firing', called(firing), { id });
  if (firing.from === '') return;
  const { kind } = await tx.schedule.findUniqueOrThrow({ where: { id: scheduleId } });
  const boardIds = firing.from.split('|').map((board) => names.id('board', board));
  const waiting = await tx.piece.findMany({
    where: { boardId: { in: boardIds }, stage: kind === 'bisque' ? 'dry' : 'glazed' },
    orderBy: { serial: 'asc' },
    include: { placements: { where: { outcome: 'refire' }, select: { firing: { select: { state: true } } } } },
  });
  const placements = waiting.map((piece, i) => ({
    ...{ pieceId: piece.id, layer: 1 + Math.floor(i / PIECES_TO_A_LAYER), hotterBecause: null },
    studioPays: piece.placements.some((before) => before.firing.state !== 'failed'),
  }));
  await loadFiring(tx, id, placements);
  await startFiring(tx, start, id, start);
  await addReading(tx, start, id, { at: start.toISOString(), kwh: firing.meterBefore });
}

/** Opens the kiln: what came out, and what it cost where the meter was read. */
export async function unload({ tx, now, names, shift }: DemoContext, { firing }: DemoEventOf<'unload'>): Promise<void> {
  const id = names.id('firing', called(firing));
  const end = shift.moment(firing.end);
  const opened = {
    endedAt: end.toISOString(),
    unloadedAt: now.toISOString(),
    boardId: names.id('board', firing.to),
  };
  if (firing.meterAfter !== '') await addReading(tx, now, id, { at: end.toISOString(), kwh: firing.meterAfter });
  if (firing.failedBecause !== '') {
    await failFiring(tx, now, id, { ...opened, because: firing.failedBecause, brokenPieceIds: [] });
    await settleFiring(tx, id, {});
    return;
  }
  const placed = await tx.placement.findMany({
    where: { firingId: id },
    include: { piece: { select: { description: true } } },
    orderBy: { piece: { serial: 'asc' } },
  });
  const broken = [...firing.broken.split('|')];
  const refire = [...firing.refire.split('|')];
  const outcomes = placed.map(({ pieceId, piece: { description } }) => {
    const outcome = takeOff(broken, description) ? 'broken' : takeOff(refire, description) ? 'refire' : 'good';
    return { pieceId, outcome, note: '' } as const;
  });
  await unloadFiring(tx, now, id, { ...opened, outcomes });
  if (firing.meterAfter !== '') await settleFiring(tx, id, {});
  if (firing.bill === 'yes') await billFiring(tx, now, id);
}

/** One name on the list stands for one piece. */
function takeOff(list: string[], description: string): boolean {
  const i = list.indexOf(description);
  if (i >= 0) list.splice(i, 1);
  return i >= 0;
}
