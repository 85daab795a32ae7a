import { clayDrawnGrams } from '../../../../trade/materials/clay.js';
import {
  COATING_GRAMS_PER_DM2,
  coatingOutside,
  mostClayGrams,
  usualWetGrams,
} from '../../../../trade/materials/usual-amounts.js';
import { type SizeMm, sizeFrom } from '../../../../trade/materials/vessel-shapes.js';
import type { Formatter } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import type { PlanBody, Workshop } from './queries';
import type { Sent } from './request-body';

type Piece = PlanBody['pieces'][number];

/** Figures of a plan that leave what is published, a sentence each: they may be right, or a slip of the keys. */
export function unusual({ body, faults }: Sent, { studio }: Pick<Workshop, 'studio'>, formatter: Formatter): string[] {
  const readable = (list: string, i: number) => !faults.some(({ pointer }) => pointer.startsWith(`#/${list}/${i}/`));
  const pieces = body.pieces.filter((_, i) => readable('pieces', i));
  const all = pieces.length === body.pieces.length && !faults.some(({ pointer }) => pointer.startsWith('#/sessions'));
  return [
    ...pieces.flatMap((piece) => [...coating(piece), ...mass(piece, formatter)]),
    ...(all ? clay(body, studio, formatter) : []),
  ];
}

function coating({ form, glaze }: Piece): string[] {
  const outside = glaze && coatingOutside(glaze.gramsPerDm2);
  if (!glaze || !outside) return [];
  const { from, to } = COATING_GRAMS_PER_DM2;
  return [
    `Check the coating of the ${called(form)}: ${glaze.gramsPerDm2}\u00a0g per dm² is ${outside} than the ${from} to ${to}\u00a0g that are published for a finished coating. Weigh a tile before and after.`,
  ];
}

function mass({ form, size, wetMassGrams }: Piece, formatter: Formatter): string[] {
  const fired: SizeMm = typeof size === 'string' ? sizeFrom(form, size) : size;
  const usual = usualWetGrams(form, fired);
  if (!usual || !wetMassGrams || (wetMassGrams >= usual.from && wetMassGrams <= usual.to)) return [];
  const bound =
    wetMassGrams < usual.from ? `less than ${grams(usual.from, formatter)}` : `more than ${grams(usual.to, formatter)}`;
  return [
    `Check the clay of the ${called(form)}: ${grams(wetMassGrams, formatter)} is ${bound}, half or twice what is published for one.`,
  ];
}

/** Clay for each student against the minutes in which it is made. */
function clay({ pieces, sessions }: PlanBody, studio: Workshop['studio'], formatter: Formatter): string[] {
  const minutes = sessions
    .filter(({ purpose }) => purpose === 'making')
    .reduce((sum, session) => sum + session.minutes, 0);
  if (minutes === 0) return [];
  const drawn = pieces.reduce(
    (sum, { perStudent, wetMassGrams }) =>
      wetMassGrams ? sum + clayDrawnGrams({ pieces: perStudent, wetMassGrams, ...studio }) : sum,
    0,
  );
  const most = mostClayGrams(minutes);
  if (drawn <= most) return [];
  return [
    `Check the clay: ${grams(drawn, formatter)} for each student is more than the ${grams(most, formatter)} that are advised for so much time of making.`,
  ];
}

const grams = (quantity: number, formatter: Formatter): string => formatQuantity(quantity, 'g', formatter);
const CALLED: Partial<Record<Piece['form'], string>> = { pinchPot: 'pinch pot' };
const called = (form: Piece['form']): string => CALLED[form] ?? form;
