import {
  SIZES,
  type Size,
  type SizeMm,
  sizeFrom,
  type VesselShape,
} from '../../../../trade/materials/vessel-shapes.js';
import { capital, count, type Formatter, listed } from '../../../format/formatter';
import type { Piece, Plan } from './queries';

const CALLED: Record<VesselShape, readonly [string, string]> = {
  cylinder: ['cylinder', 'cylinders'],
  mug: ['mug', 'mugs'],
  bowl: ['bowl', 'bowls'],
  plate: ['plate', 'plates'],
  box: ['box', 'boxes'],
  jar: ['jar', 'jars'],
  bottle: ['bottle', 'bottles'],
  pinchPot: ['pinch pot', 'pinch pots'],
  tile: ['tile', 'tiles'],
};

export const formCalled = (form: VesselShape): string => CALLED[form][0];
export const pluralOf = (form: VesselShape): string => CALLED[form][1];

/** "2 h 30 min", "45 min", "3 h". */
export function timeInWords(minutes: number): string {
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
  return [hours > 0 && `${hours}\u00a0h`, (rest > 0 || hours === 0) && `${rest}\u00a0min`].filter(Boolean).join(' ');
}

/** "two bowls and a mug"; nothing where nobody keeps a piece. */
export function makesInWords(pieces: readonly Pick<Piece, 'form' | 'perStudent'>[]): string {
  const all = new Map<VesselShape, number>();
  for (const { form, perStudent } of pieces) all.set(form, (all.get(form) ?? 0) + perStudent);
  return listed([...all].map(([form, number]) => some(number, form)));
}

const some = (number: number, form: VesselShape): string =>
  number === 1 ? `a ${CALLED[form][0]}` : count(number, ...CALLED[form]);

/** The word whose assumed size this is; null for one that was measured. */
export function sizeWord(form: VesselShape, size: SizeMm): Size | null {
  return SIZES.find((word) => inMm(sizeFrom(form, word)) === inMm(size)) ?? null;
}

/** "120 × 88 × 95 mm", width, depth and height. */
export const inMm = ({ widthMm, depthMm, heightMm }: SizeMm): string => `${widthMm} × ${depthMm} × ${heightMm}\u00a0mm`;

/** "three sessions, 7 h", what each is for where they are of more than one kind. */
function sessionsInWords(sessions: Plan['sessions']): string {
  const minutes = sessions.reduce((sum, session) => sum + session.minutes, 0);
  return `${count(sessions.length, 'session')}, ${timeInWords(minutes)}`;
}

const KINDS: Record<Plan['kind'], string> = {
  course: 'course',
  private: 'private session',
  openStudio: 'open studio',
};
export const kindCalled = (kind: Plan['kind']): string => KINDS[kind];

/** "4 to 8 places", or what a place is of where it is no course. */
export function placesInWords({ kind, places, minimum, groupOf }: Plan): string {
  if (kind === 'openStudio') return `${places} ${places === 1 ? 'bench' : 'benches'} by the visit`;
  if (kind === 'private') return `one group of ${groupOf ?? 1}${groupOf === places ? '' : `, up to ${places}`}`;
  return minimum === places ? count(places, 'place') : `${minimum} to ${places} places`;
}

/** A plan in one line: "Three sessions, 7 h; 4 to 8 places; each makes two bowls and a mug." */
export function oneLine(plan: Plan): string {
  const makes = makesInWords(plan.pieces);
  const sessions =
    plan.kind === 'openStudio' ? `a visit of ${timeInWords(visitMinutes(plan))}` : sessionsInWords(plan.sessions);
  const does = hasOnlyReadyMadePieces(plan) ? 'decorates' : 'makes';
  const parts = [sessions, placesInWords(plan), makes ? `each ${does} ${makes}` : 'nobody keeps a piece'];
  return `${capital(parts.join('; '))}.`;
}

/** Whether all that students take home comes bisqued or fired, and is only decorated. */
export const hasOnlyReadyMadePieces = ({ pieces }: Pick<Plan, 'pieces'>): boolean =>
  pieces.length > 0 && pieces.every(({ comesAs }) => comesAs !== null);

const visitMinutes = ({ sessions }: Plan): number => sessions[0]?.minutes ?? 0;

/** Up to two decimals, as the studio writes numbers. */
export function number(exact: number | string, { locale }: Pick<Formatter, 'locale'>, decimals = 2): string {
  return new Intl.NumberFormat(locale, { maximumFractionDigits: decimals }).format(Number(exact));
}

export const litres = (exact: number | string, formatter: Pick<Formatter, 'locale'>): string =>
  `${number(exact, formatter, Number(exact) < 10 ? 1 : 0)}\u00a0l`;
