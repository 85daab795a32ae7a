import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { BEFORE_FIRING, UNTIL_UNLOADED } from '../../documents/kiln-words.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { Decimal } from '../../trade/money/money.js';
import { roomOf, WITH_SHRINKAGE } from '../firings/loaded-ware.js';
import { cautionsInKilns } from '../firings/service.js';
import { chamberMm3 } from '../kilns/service.js';
import type { ShownPiece, Today, TodayFiring } from './contract.js';
import type { ReportDay } from './day.js';

const WITH = {
  firings: {
    where: { state: { in: ['planned', 'firing', 'unloaded'] } },
    include: {
      schedule: { select: { name: true, kind: true } },
      placements: {
        select: { pieceId: true, layer: true, piece: { include: WITH_SHRINKAGE } },
        orderBy: [{ layer: 'asc' }, { pieceId: 'asc' }],
      },
    },
  },
} as const satisfies Prisma.KilnInclude;
type Row = Prisma.KilnGetPayload<{ include: typeof WITH }>;
export type OpenFiring = Row['firings'][number] & { kiln: Omit<Row, 'firings'> };

/** The order in which they are shown: what waits for hands first. */
const ORDER: readonly TodayFiring['do'][] = ['unload', 'start', 'load', 'wait', 'settle'];

/**
 * The kilns by name, and their firings that are planned, under way, or unloaded and not settled. Those that failed are left out: what they
 * cost is the studio's, and whoever they kept waiting stands on the boards again.
 */
export async function listKilnsWithFirings(tx: Transaction): Promise<{ kilns: Today['kilns']; open: OpenFiring[] }> {
  const rows = await tx.kiln.findMany({ orderBy: { name: 'asc' }, include: WITH });
  return {
    kilns: rows.map(({ id, name, widthMm, depthMm, heightMm }) => ({ kilnId: id, name, widthMm, depthMm, heightMm })),
    open: rows
      .flatMap(({ firings, ...kiln }) => firings.map((firing) => ({ ...firing, kiln })))
      .sort((a, b) => a.number - b.number),
  };
}

/** Those that ask for something: of what is planned, what begins before `until`. */
export const askingFirings = (open: readonly OpenFiring[], until: Date): OpenFiring[] =>
  open.filter(({ state, plannedFrom }) => state !== 'planned' || plannedFrom < until);

/**
 * @param shown   every piece that they hold, by id
 * @param hazards what lies on the ware of each and needs care, by its id
 */
export function firingsOf(
  rows: readonly OpenFiring[],
  now: Date,
  today: ReportDay,
  shown: ReadonlyMap<string, ShownPiece>,
  hazards: ReadonlyMap<string, string[]>,
): TodayFiring[] {
  return rows
    .map((row) => {
      const firing = show(row, now, today, shown);
      const cautions = [...cautionsFor(firing.do), ...(hazards.get(row.id) ?? [])];
      return { ...firing, cautions, fillPercent: fillPercent(row) };
    })
    .sort((a, b) => ORDER.indexOf(a.do) - ORDER.indexOf(b.do) || a.from.localeCompare(b.from) || a.number - b.number);
}

function show(
  row: OpenFiring,
  now: Date,
  today: ReportDay,
  shown: ReadonlyMap<string, ShownPiece>,
): Omit<TodayFiring, 'fillPercent' | 'cautions'> {
  const [from, to] = [row.startedAt ?? row.plannedFrom, row.unloadedAt ?? coldAt(row)];
  const todo = whatToDo(row, to, now, today);
  const layers = [...groupBy(row.placements, ({ layer }) => layer)].map(([layer, placed]) => ({
    layer,
    pieces: placed.flatMap(({ pieceId }) => shown.get(pieceId) ?? []),
  }));
  return {
    ...{ firingId: row.id, number: row.number, kilnId: row.kilnId, kiln: row.kiln.name },
    ...{ kind: row.schedule.kind, schedule: row.schedule.name, do: todo },
    ...{ from: from.toISOString(), to: to.toISOString(), pieces: row.placements.length },
    coldSince: todo === 'unload' ? to.toISOString() : null,
    layers,
  };
}

/** When it should be cold: it takes as long as was planned, from whenever it started. */
function coldAt({ startedAt, plannedFrom, plannedTo }: OpenFiring): Date {
  const begin = startedAt ?? plannedFrom;
  return new Date(begin.getTime() + plannedTo.getTime() - plannedFrom.getTime());
}

/** A load is put in until its day; on that day, or once that has passed, a kiln that holds something is started. */
function whatToDo(row: OpenFiring, cold: Date, now: Date, today: ReportDay): TodayFiring['do'] {
  if (row.state === 'unloaded') return 'settle';
  if (row.state === 'firing') return cold <= now ? 'unload' : 'wait';
  return row.placements.length > 0 && row.plannedFrom < today.endsAt ? 'start' : 'load';
}

/** How much of the chamber the ware takes, by the room that the firing is split by; one decimal. */
function fillPercent({ kiln, schedule, placements }: OpenFiring): string | null {
  const filledMm3 = placements.reduce((sum, { piece }) => sum + roomOf(piece, schedule.kind), 0);
  return filledMm3 === 0 ? null : new Decimal(filledMm3).times(100).div(chamberMm3(kiln)).toFixed(1);
}

function cautionsFor(todo: TodayFiring['do']): readonly string[] {
  if (todo === 'settle') return [];
  return todo === 'unload' || todo === 'wait' ? UNTIL_UNLOADED : BEFORE_FIRING;
}

/** What lies on the ware of those that are not unloaded yet, in sentences, by firing. */
export async function hazardsInKilns(
  tx: Transaction,
  rows: readonly OpenFiring[],
  locale: string,
): Promise<Map<string, string[]>> {
  const loads = rows
    .filter(({ state }) => state !== 'unloaded')
    .map(({ id, schedule, placements }) => ({
      ...{ id, kind: schedule.kind, pieceIds: placements.map(({ pieceId }) => pieceId) },
    }));
  return cautionsInKilns(tx, loads, locale);
}
