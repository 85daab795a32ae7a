import { useState } from 'preact/hooks';
import { pieceInWords, type ShownPiece } from '../format/piece';
import { Outline } from './pot';
import { pxOf } from './px-scale';

type Props = {
  pieces: readonly ShownPiece[];
  scale: number;
  /** what stands on it, for whoever hears it */
  label: string;
};

/** How many stand there before somebody asks for all: about two planks. */
const FIRST = 16;

/** Pots on a plank, to scale, in a list; the plank goes on below where a screen is too narrow for it. */
export function Board({ pieces, scale, label }: Props) {
  const [all, setAll] = useState(false);
  const shown = all ? pieces : pieces.slice(0, FIRST);
  const late = shown.some((piece) => piece.late);
  return (
    <>
      <ul class={late ? 'board has-late' : 'board'} aria-label={label}>
        {shown.map((piece) => (
          <li key={piece.pieceId}>
            <span class="heard">{pieceInWords(piece)}</span>
            <Standing piece={piece} scale={scale} />
          </li>
        ))}
      </ul>
      {pieces.length > FIRST && (
        <button type="button" class="quiet" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? `Show the first ${FIRST} only` : `Show ${pieces.length - FIRST} more`}
        </button>
      )}
    </>
  );
}

function Standing({ piece, scale }: { piece: ShownPiece; scale: number }) {
  const { widthMm, heightMm, code, maker, days, late } = piece;
  return (
    <>
      <span class="stands-on" aria-hidden="true">
        <svg
          aria-hidden="true"
          width={pxOf(widthMm, scale)}
          height={pxOf(heightMm, scale)}
          viewBox={`${-widthMm / 2} ${-heightMm} ${widthMm} ${heightMm}`}
        >
          <Outline {...piece} />
        </svg>
      </span>
      <span class="tag" aria-hidden="true">
        <b>{code}</b>
        {late && <span class="iron">{days} days</span>}
        <span class="maker">{maker}</span>
      </span>
    </>
  );
}
