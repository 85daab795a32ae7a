import {
  addReading,
  billFiring,
  loadFiring,
  planFiring,
  settleFiring,
  startFiring,
  unloadFiring,
} from '../../studio/firings/service.js';
import type { EntryOf } from './diary-entries.js';
import type { Page } from './page.js';

const PIECES_TO_A_LAYER = 6;

/** Fires all that stands on some boards: planned, loaded, started, metered, unloaded, and settled where the meter was read. */
export async function fire({ tx, now, names, shift }: Page, entry: EntryOf<'fire'>): Promise<void> {
  const boardIds = entry.boards.map((board) => names.id('board', board));
  const pieces = await tx.piece.findMany({ where: { boardId: { in: boardIds } }, orderBy: { serial: 'asc' } });
  const [start, end, opened] = [shift.moment(entry.start), shift.moment(entry.end), shift.moment(entry.unload)];
  const { id } = await planFiring(tx, now, {
    kilnId: names.id('kiln', entry.kiln),
    scheduleId: names.id('schedule', entry.schedule),
    plannedFrom: start.toISOString(),
    plannedTo: opened.toISOString(),
    labourMinutes: entry.labourMinutes,
  });
  const placements = pieces.map((piece, i) => ({
    ...{ pieceId: piece.id, layer: 1 + Math.floor(i / PIECES_TO_A_LAYER), studioPays: false, hotterBecause: null },
  }));
  await loadFiring(tx, now, id, placements);
  await startFiring(tx, start, id, start);
  if (entry.meter) {
    await addReading(tx, start, id, { at: start.toISOString(), kwh: entry.meter.before });
    await addReading(tx, end, id, { at: end.toISOString(), kwh: entry.meter.after });
  }
  await unloadFiring(tx, opened, id, {
    endedAt: end.toISOString(),
    unloadedAt: opened.toISOString(),
    boardId: names.id('board', entry.to),
    outcomes: pieces.map((piece) => ({
      ...{ pieceId: piece.id, outcome: entry.broken.includes(piece.description) ? 'broken' : 'good', note: '' },
    })),
  });
  if (entry.meter) await settleFiring(tx, id, {});
  if (entry.bill) await billFiring(tx, opened, id);
}
