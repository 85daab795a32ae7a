import type { FiringKind } from './kiln-room.js';
import type { Stage } from './ware-stages.js';

export const OUTCOMES = ['good', 'refire', 'broken'] as const;
export type Outcome = (typeof OUTCOMES)[number];

/** The stages from which each firing takes ware. Fired ware in a glaze firing is a refire. */
const TAKES: Record<FiringKind, readonly Stage[]> = {
  bisque: ['dry'],
  glaze: ['glazed', 'fired', 'ready'],
  lustre: ['fired', 'ready'],
};

/** What each firing makes of ware. What needs another firing waits where such a firing takes it from. */
const MAKES: Record<FiringKind, Record<Outcome, Stage>> = {
  bisque: { good: 'bisque', refire: 'dry', broken: 'broken' },
  glaze: { good: 'fired', refire: 'glazed', broken: 'broken' },
  lustre: { good: 'fired', refire: 'fired', broken: 'broken' },
};

export const takes = (kind: FiringKind, stage: Stage): boolean => TAKES[kind].includes(stage);
export const stagesFor = (kind: FiringKind): string => TAKES[kind].join(', ');
export const stageAfter = (kind: FiringKind, outcome: Outcome): Stage => MAKES[kind][outcome];

/** Who bears a piece's share: the studio, where its kiln broke the piece or it owes the refire; otherwise who pays for the piece. */
export function borneBy(placement: {
  outcome: Outcome | null;
  studioPays: boolean;
  firingPaidBy: 'course' | 'maker';
}): 'course' | 'maker' | 'studio' {
  return placement.outcome === 'broken' || placement.studioPays ? 'studio' : placement.firingPaidBy;
}
