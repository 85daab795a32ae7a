import type { Stage } from '../../trade/firing/ware-stages.js';
import type { Studio } from '../settings/contract.js';
import type { ShownPiece } from './contract.js';
import type { StandingPiece } from './queries.js';

/** Ware that waits longer than this has usually been forgotten: six weeks (common practice). */
const WAIT_DAYS_MAX = 42;

const GLAZED: ReadonlySet<Stage> = new Set<Stage>(['glazed', 'fired', 'ready', 'collected', 'givenAway']);
const WAITING: ReadonlySet<Stage> = new Set<Stage>(['greenware', 'dry', 'bisque', 'glazed']);

/** A piece as it is drawn, with how long it has been at its stage. */
export function shownPiece(piece: StandingPiece, studio: Studio): ShownPiece {
  const { id, code, makerId, maker, description, form, widthMm, heightMm, depthMm, stage, firingNumber } = piece;
  const { since, days } = piece;
  return {
    ...{ pieceId: id, code, makerId, maker, description, form, widthMm, heightMm, depthMm },
    glazed: GLAZED.has(stage),
    ...{ since, days, late: waitsTooLong(piece, studio), firingNumber },
  };
}

export const waitsTooLong = ({ stage, days }: StandingPiece, studio: Studio): boolean =>
  days > longestWait(stage, studio);

function longestWait(stage: Stage, { storageDays }: Studio): number {
  if (stage === 'ready') return storageDays;
  return WAITING.has(stage) ? WAIT_DAYS_MAX : Number.POSITIVE_INFINITY;
}
