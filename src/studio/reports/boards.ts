import type { Transaction } from '../../database/transaction.js';
import type { Stage } from '../../trade/firing/ware-stages.js';
import type { FiringKind } from '../kilns/contract.js';
import type { Studio } from '../settings/contract.js';
import { type Collection, PIECES_SHOWN_MAX, type TodayBoard } from './contract.js';
import type { OpenFiring } from './firings.js';
import { shownPiece, waitsTooLong } from './pieces.js';
import type { StandingPiece } from './queries.js';

type Waiting = TodayBoard['waiting'];

/** What ware at each stage waits for, in the order in which it passes, and the firing it waits for. */
const BOARDS: readonly { waiting: Waiting; stage: Stage; firing: FiringKind | null }[] = [
  { waiting: 'drying', stage: 'greenware', firing: 'bisque' },
  { waiting: 'bisque', stage: 'dry', firing: 'bisque' },
  { waiting: 'glazing', stage: 'bisque', firing: null },
  { waiting: 'glaze', stage: 'glazed', firing: 'glaze' },
  { waiting: 'sorting', stage: 'fired', firing: null },
  { waiting: 'collection', stage: 'ready', firing: null },
];

type Found = { standing: readonly StandingPiece[]; open: readonly OpenFiring[]; lapsed: readonly string[] };

/** The boards as they stand. Ware in the fire is on none of them. */
export async function boardsOf(
  tx: Transaction,
  now: Date,
  studio: Studio,
  { standing, open, lapsed }: Found,
): Promise<TodayBoard[]> {
  const cold = standing.filter(({ inTheFire }) => !inTheFire);
  const planned = nextFirings(open);
  const toGlaze = cold.filter(({ stage }) => stage === 'bisque').map(({ makerId }) => makerId);
  const glazing = await nextGlazing(tx, now, [...new Set(toGlaze)], lapsed);
  return BOARDS.map(({ waiting, stage, firing }) => {
    const ware = cold.filter((piece) => piece.stage === stage);
    const next = firing === null ? (waiting === 'glazing' ? glazing : null) : planned.get(firing);
    return {
      waiting,
      pieces: ware.slice(0, PIECES_SHOWN_MAX).map((piece) => shownPiece(piece, studio)),
      inAll: ware.length,
      lateInAll: ware.filter((piece) => waitsTooLong(piece, studio)).length,
      next: next?.toISOString() ?? null,
    };
  });
}

/** Whose ware is ready, and who was told of all of it. What stands in a load for another firing can't be collected. */
export function collectionOf(standing: readonly StandingPiece[]): Collection {
  const ready = standing.filter(({ stage, firingNumber }) => stage === 'ready' && firingNumber === null);
  const makers = new Set(ready.map(({ makerId }) => makerId));
  const untold = new Set(ready.filter(({ told }) => !told).map(({ makerId }) => makerId));
  return {
    makers: makers.size,
    told: makers.size - untold.size,
    longestDays: ready.length === 0 ? null : ready.reduce((longest, { days }) => Math.max(longest, days), 0),
  };
}

/** When the next planned firing of each kind should start. */
function nextFirings(open: readonly OpenFiring[]): Map<FiringKind, Date> {
  const plans = open
    .filter(({ state }) => state === 'planned')
    .sort((a, b) => b.plannedFrom.getTime() - a.plannedFrom.getTime());
  return new Map(plans.map(({ plannedFrom, schedule }) => [schedule.kind, plannedFrom]));
}

/** The first glazing session still to come to which one of these makers is booked. */
async function nextGlazing(
  tx: Transaction,
  now: Date,
  makerIds: readonly string[],
  lapsed: readonly string[],
): Promise<Date | null> {
  if (makerIds.length === 0) return null;
  const places = { some: { personId: { in: [...makerIds] } } };
  const booked = { cancelledAt: null, id: { notIn: [...lapsed] }, places };
  const session = await tx.session.findFirst({
    where: { purpose: 'glazing', cancelledAt: null, endsAt: { gt: now }, course: { bookings: { some: booked } } },
    orderBy: { startsAt: 'asc' },
    select: { startsAt: true },
  });
  return session?.startsAt ?? null;
}
