import { useWidth } from '../../../charts/use-width';
import type { Formatter } from '../../../format/formatter';
import { percent, percents } from './labels';

type Props = { name: string; parts: readonly { name: string; share: string }[]; formatter: Formatter };

const HEIGHT = 40;
const GAP = 2;
const LETTERED = 26; // px that a letter needs

/** The letter by which a part is found in picture and table. */
export const letter = (i: number): string => String.fromCharCode(97 + (i % 26)).repeat(1 + Math.floor(i / 26));

/** The parts side by side on the plank, each as wide as its share. */
export function Bar({ name, parts, formatter }: Props) {
  const [ref, width] = useWidth();
  const shares = percents(parts);
  let from = 0;
  const blocks = shares.map((share, i) => {
    const x = from;
    const wide = (share / 100) * width;
    from += wide;
    return { i, share, x, wide: Math.max(1, wide - GAP) };
  });
  const told = parts.map((part, i) => `${part.name} ${percent(shares[i] ?? 0, formatter)}`).join(', ');
  return (
    <div ref={ref} class="mixed">
      <svg height={HEIGHT + 4} viewBox={`0 0 ${width} ${HEIGHT + 4}`} role="img" aria-label={`${name} is ${told}`}>
        {blocks.map(({ i, x, wide }) => (
          <rect key={i} class={i % 2 === 0 ? 'even' : 'odd'} x={x} y="2" width={wide} height={HEIGHT - 2} />
        ))}
        {blocks.map(({ i, x, wide }) =>
          wide < LETTERED ? null : (
            <text key={i} x={x + wide / 2} y={HEIGHT / 2 + 6} text-anchor="middle" class="strong">
              {letter(i)}
            </text>
          ),
        )}
        <line class="plank" x1="0" x2={width} y1={HEIGHT + 1} y2={HEIGHT + 1} />
      </svg>
    </div>
  );
}
