/** What becomes of a piece, in its usual order; broken is possible at any time. */
export const STAGES = ['greenware', 'dry', 'bisque', 'glazed', 'fired', 'ready', 'collected', 'broken'] as const;
export type Stage = (typeof STAGES)[number];

/** What a person may note by hand. Only a firing makes bisque or fired ware (src/studio/firings/rules.ts). */
const NEXT: Record<Stage, readonly Stage[]> = {
  greenware: ['dry', 'broken'],
  dry: ['broken'],
  bisque: ['glazed', 'broken'],
  glazed: ['broken'],
  fired: ['ready', 'broken'],
  ready: ['collected', 'broken'],
  collected: ['broken'],
  broken: [],
};

/** May this be noted of a piece by hand? To stay at a stage is always possible: a piece is moved, or something is noted of it. */
export function mayBecome(from: Stage, to: Stage): boolean {
  return from === to || NEXT[from].includes(to);
}

/** Why it may not, as a person would be told. */
export function whyNot(from: Stage, to: Stage): string {
  if (to === 'bisque' || to === 'fired') return `is ${from}; only unloading a firing makes it ${to}`;
  const next = NEXT[from];
  return `is ${from} and can only become ${next.length > 0 ? next.join(' or ') : 'nothing else any more'}`;
}

/** What matures below this, in °C, is lustre (common practice: 720 to 790). */
const LUSTRE_BELOW_C = 900;
type Applied = { kind: string; firingRange: { toC: number } | null };

/**
 * The stage of bisque or of what is later than that, once layers were put on it. Ware with raw glaze waits for the fire and can't be
 * called ready, or it would be handed over raw; lustre leaves it fired, since a lustre firing takes nothing else.
 */
export function afterGlazing(from: Stage, applied: readonly Applied[]): Stage {
  const glazes = applied.filter(({ kind }) => kind === 'glaze');
  if (glazes.length === 0) return from;
  const lustreOnly = glazes.every(({ firingRange }) => firingRange !== null && firingRange.toC < LUSTRE_BELOW_C);
  return lustreOnly && (from === 'fired' || from === 'ready') ? 'fired' : 'glazed';
}

/** Ware that stands on no board any more. */
export const isGone = (stage: Stage): boolean => stage === 'collected' || stage === 'broken';
