/** What becomes of a piece, in its usual order; then how else it may end. Broken is possible at any time. */
export const STAGES = [
  ...(['greenware', 'dry', 'bisque', 'glazed', 'fired', 'ready', 'collected'] as const),
  ...(['givenAway', 'reclaimed', 'broken'] as const),
] as const;
export type Stage = (typeof STAGES)[number];

/**
 * What a person may note by hand. Only a firing makes bisque or fired ware (src/trade/firing/firing-outcomes.ts), washing off glaze takes
 * ware back to what it was (layers.ts), and what is given away goes with its caution (src/studio/firings/giving-away.ts).
 */
const NEXT: Record<Stage, readonly Stage[]> = {
  greenware: ['dry', 'reclaimed', 'broken'],
  dry: ['reclaimed', 'broken'],
  bisque: ['glazed', 'broken'],
  glazed: ['broken'],
  fired: ['ready', 'broken'],
  ready: ['collected', 'broken'],
  collected: ['broken'],
  givenAway: ['broken'],
  reclaimed: [],
  broken: [],
};

/** May this be noted of a piece by hand? To stay at a stage is always possible: a piece is moved, or something is noted of it. */
export function mayBecome(from: Stage, to: Stage): boolean {
  return from === to || NEXT[from].includes(to);
}

export const stageInWords = (stage: Stage): string => (stage === 'givenAway' ? 'given away' : stage);

/** Why it may not, as a person would be told. */
export function whyNot(from: Stage, to: Stage): string {
  const now = `is ${stageInWords(from)}`;
  if (from === 'glazed' && to === 'bisque') return `${now}; to take the glaze off, note it as washed off`;
  if (from === 'ready' && to === 'givenAway') return `${now}; give it away with its caution, not as a stage alone`;
  if (to === 'bisque' || to === 'fired') return `${now}; only unloading a firing makes it ${to}`;
  if (to === 'reclaimed') return `${now}; only clay that was never fired or glazed can be reclaimed`;
  const next = NEXT[from].map(stageInWords);
  return `${now} and can only become ${next.length > 0 ? next.join(' or ') : 'nothing else any more'}`;
}

/** Ware that was never fired: leather-hard and wetter, or bone dry. */
export const isRaw = (stage: Stage): boolean => stage === 'greenware' || stage === 'dry';

/** What matures below this, in °C, is lustre (common practice: 720 to 790). */
const LUSTRE_BELOW_C = 900;
type Applied = { kind: string; firingRange: { toC: number } | null };

/** Lustre, also where it was entered as a glaze that matures as low as one. */
export const isLustre = ({ kind, firingRange }: Applied): boolean =>
  kind === 'lustre' || (kind === 'glaze' && firingRange !== null && firingRange.toC < LUSTRE_BELOW_C);

/**
 * The stage of ware once layers were put on it. With raw glaze on it, it waits for the fire, and so does fired ware with anything on
 * it: neither can be called ready, or it would be handed over raw. Lustre leaves it fired, since a lustre firing takes nothing else.
 * Wax burns away with whatever fires next.
 */
export function stageOnceCoated(from: Stage, applied: readonly Applied[]): Stage {
  const stays = applied.filter(({ kind }) => kind !== 'wax');
  if (from === 'fired' || from === 'ready') {
    if (stays.length === 0) return from;
    return stays.every(isLustre) ? 'fired' : 'glazed';
  }
  return applied.some(({ kind }) => kind === 'glaze') ? 'glazed' : from;
}

/** Ware that stands on no board any more. */
const GONE: readonly Stage[] = ['collected', 'givenAway', 'reclaimed', 'broken'];
export const isGone = (stage: Stage): boolean => GONE.includes(stage);
