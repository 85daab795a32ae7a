import type { Tile } from './queries';

const WIDTH = 100;
const HEIGHT = 75;
const CLAY = 12; // of bare clay at the foot
const LAYERS_SEEN = 5;

/** A tile without a photo: the clay, and each layer upon it a little less far down than the one beneath. */
export function Chip({ tile: { number, layers } }: { tile: Tile }) {
  const seen = layers.slice(0, LAYERS_SEEN);
  return (
    <svg class="chip" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true">
      <rect class="bare" width={WIDTH} height={HEIGHT} />
      {seen.map((layer, i) => (
        <rect
          key={layer.materialId + i}
          class={i % 2 === 0 ? 'even' : 'odd'}
          width={WIDTH}
          height={(HEIGHT - CLAY) * (1 - i / (seen.length + 1))}
        />
      ))}
      <text x="6" y={HEIGHT - 2}>
        {number}
      </text>
    </svg>
  );
}
