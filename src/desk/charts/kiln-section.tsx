import type { ShownPiece } from '../format/piece';
import { layOut, type Shelf } from './kiln-layout';
import { Outline } from './pot';

type Kiln = { widthMm: number; heightMm: number };
type Props = { kiln: Kiln; layers: readonly { layer: number; pieces: readonly ShownPiece[] }[]; called: string };

const WALL_MM = 14;
const SHELF_MM = 15;

/** A kiln cut through and seen from its door, to scale. What it holds stands in words below it. */
export function KilnSection({ kiln: { widthMm, heightMm }, layers, called }: Props) {
  const { shelves, neededMm } = layOut(widthMm, layers);
  const top = Math.max(heightMm, neededMm);
  const box = `${-WALL_MM} ${-top - WALL_MM} ${widthMm + 2 * WALL_MM} ${top + 2 * WALL_MM}`;
  return (
    <>
      <svg class="kiln" viewBox={box} role="img" aria-label={`${called} in section, to scale`}>
        <path class="wall" d={wallPath(widthMm, heightMm)} fill-rule="evenodd" />
        {shelves.map((shelf, i) => (
          <Layer key={shelf.layer} shelf={shelf} widthMm={widthMm} covered={i < shelves.length - 1} />
        ))}
      </svg>
      {neededMm > heightMm && (
        <p class="iron">
          These layers need {Math.ceil((neededMm - heightMm) / 10)} cm more height than the chamber has.
        </p>
      )}
    </>
  );
}

const wallPath = (w: number, h: number) =>
  `M${-WALL_MM} ${WALL_MM} V${-h - WALL_MM} H${w + WALL_MM} V${WALL_MM} Z M0 0 V${-h} H${w} V0 Z`;

type LayerProps = { shelf: Shelf<ShownPiece>; widthMm: number; covered: boolean };

function Layer({ shelf: { yMm, headMm, rows }, widthMm, covered }: LayerProps) {
  return (
    <g transform={`translate(0 ${-yMm})`}>
      {rows.map(({ behind, placed }) => (
        <g key={placed[0]?.piece.pieceId} class={behind ? 'behind' : undefined}>
          {placed.map(({ piece, xMm }) => (
            <g key={piece.pieceId} transform={`translate(${xMm} 0)`}>
              <Outline {...piece} late={false} />
            </g>
          ))}
        </g>
      ))}
      {covered && (
        <>
          <path
            class="prop"
            d={`M4 ${-headMm} V0 H12 V${-headMm} Z M${widthMm - 12} ${-headMm} V0 H${widthMm - 4} V${-headMm} Z`}
          />
          <rect class="shelf" x="0" y={-headMm - SHELF_MM} width={widthMm} height={SHELF_MM} />
        </>
      )}
    </g>
  );
}
