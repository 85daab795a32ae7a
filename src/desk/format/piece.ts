import type { VesselShape } from '../../trade/materials/vessel-shapes.js';
import type { Schemas } from '../api/client';
import { count } from './formatter';

export type ShownPiece = Schemas['ShownPiece'];

const FORM_WORDS: Partial<Record<VesselShape, string>> = { pinchPot: 'pinch pot' };

export const formCalled = (form: VesselShape): string => FORM_WORDS[form] ?? form;

export type Stage = Schemas['Piece']['stage'];

const STAGE_WORDS: Partial<Record<Stage, string>> = {
  dry: 'bone dry',
  glazed: 'glazed, not fired',
  ready: 'ready to collect',
  givenAway: 'given away',
};

/** What became of a piece, in the middle of a sentence. */
export const stageCalled = (stage: Stage): string => STAGE_WORDS[stage] ?? stage;

const GONE: ReadonlySet<Stage> = new Set<Stage>(['collected', 'givenAway', 'reclaimed', 'broken']);
export const isGone = (stage: Stage): boolean => GONE.has(stage);

const GLAZED: ReadonlySet<Stage> = new Set<Stage>(['glazed', 'fired', 'ready', 'collected', 'givenAway']);
/** Drawn with glaze on it, as on the boards of today. */
export const isGlazed = (stage: Stage): boolean => GLAZED.has(stage);

export const centimetres = (mm: number) => String(Math.round(mm / 10) || Math.round(mm) / 10);

/** What the drawing shows, for whoever hears the page: "4K7, Ines Duval, mug, 8 by 10 cm, waiting 3 days". */
export function pieceInWords({ code, maker, form, widthMm, heightMm, days, late }: ShownPiece): string {
  const size = `${centimetres(widthMm)} by ${centimetres(heightMm)} cm`;
  const since = days === 0 ? 'since today' : `waiting ${days} ${days === 1 ? 'day' : 'days'}`;
  return [code, maker, formCalled(form), size, late ? `${since}, too long` : since].join(', ');
}

/** "eleven pieces", and "one piece". */
export const pieces = (number: number): string => count(number, 'piece');
