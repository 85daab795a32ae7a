import { profilePath } from '../../trade/materials/vessel-profiles.js';
import type { ShownPiece } from '../format/piece';

type Shape = Pick<ShownPiece, 'form' | 'widthMm' | 'heightMm' | 'glazed' | 'late'>;

const potClass = ({ glazed, late }: Pick<ShownPiece, 'glazed' | 'late'>): string =>
  ['pot', glazed && 'glazed', late && 'late'].filter(Boolean).join(' ');

/** The outline of a pot, in mm about the middle of its foot; its line keeps its width at every scale. */
export function Outline(shape: Shape) {
  return (
    <path
      class={potClass(shape)}
      d={profilePath(shape.form, shape.widthMm, shape.heightMm)}
      fill-rule="evenodd"
      vector-effect="non-scaling-stroke"
    />
  );
}
