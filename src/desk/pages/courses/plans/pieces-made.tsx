import { Outline } from '../../../charts/pot';
import { pxOf } from '../../../charts/px-scale';
import { capital, count } from '../../../format/formatter';
import { formCalled, inMm, pluralOf, sizeWord } from './labels';
import type { Piece } from './queries';

type Props = { pieces: readonly Piece[]; scale: number; labelledBy: string };

/** More of one kind than these are told by their number. */
const DRAWN = 4;

/** What one student takes home, standing on a plank to scale. */
export function Makes({ pieces, scale, labelledBy }: Props) {
  return (
    <ul class="board makes" aria-labelledby={labelledBy}>
      {pieces.map((piece, i) => (
        <li key={`${i} ${piece.form}`}>
          <span class="stands-on" aria-hidden="true">
            {Array.from({ length: Math.min(piece.perStudent, DRAWN) }, (_, nth) => (
              <Standing key={nth} piece={piece} scale={scale} />
            ))}
          </span>
          <span class="tag">
            <b>{capital(count(piece.perStudent, formCalled(piece.form), pluralOf(piece.form)))}</b>
            <span class="maker">{sizeTold(piece)}</span>
          </span>
        </li>
      ))}
    </ul>
  );
}

function sizeTold({ form, size }: Piece): string {
  const word = sizeWord(form, size);
  return word ?? inMm(size);
}

function Standing({ piece: { form, size, glaze }, scale }: { piece: Piece; scale: number }) {
  const { widthMm, heightMm } = size;
  return (
    <svg
      aria-hidden="true"
      width={pxOf(widthMm, scale)}
      height={pxOf(heightMm, scale)}
      viewBox={`${-widthMm / 2} ${-heightMm} ${widthMm} ${heightMm}`}
    >
      <Outline {...{ form, widthMm, heightMm }} glazed={glaze !== null} late={false} />
    </svg>
  );
}
