import type { ComponentChildren } from 'preact';
import { along } from '../../../charts/linear-scale';
import { useWidth } from '../../../charts/use-width';
import type { Words } from './labels';

/**
 * What is left with so many people. `wide` is the part of its room that the pillar fills, 0 to 1; `under` stands below it, the second
 * where there is little room.
 */
export type Pillar = { people: number; resultMinor: string; wide: number; held: boolean; under?: [string, string] };
/** Where the drawing stands, in px, for what is drawn over it: the width of one number, the whole, the plank, and the foot. */
export type Ground = { step: number; width: number; plank: number; foot: number };

type Props = {
  pillars: readonly Pillar[];
  label: string;
  about: Words['about'];
  over?(ground: Ground): ComponentChildren;
};

const HEIGHT = 150;
const LETTERED = 34; // px below the foot for one line of letters
const SECOND_LINE = 18;
/** px for one number of people; below it only every second one is written out */
const TIGHT = 46;

/** What is left at each number of people: above the plank it stands, below it is lost; dashed where the course is not held. */
export function Pillars({ pillars, label, about, over }: Props) {
  const [ref, width] = useWidth();
  const results = pillars.map(({ resultMinor }) => Number(resultMinor));
  const most = Math.max(1, ...results);
  const least = Math.min(-1, ...results);
  const tall = along({ from: 0, to: Math.max(most, -least) }, { from: 0, to: HEIGHT });
  const plank = tall(most) + 26;
  const foot = plank + tall(-least) + 22;
  const height = foot + LETTERED + (pillars.some(({ under }) => under) ? SECOND_LINE : 0);
  const step = width / pillars.length;
  const sparse = step < TIGHT;
  return (
    <div ref={ref}>
      <svg height={height} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={label}>
        {pillars.map(({ people, resultMinor, wide, held, under }, i) => {
          const stands = Number(resultMinor) >= 0;
          const across = Math.max(4, (step - 10) * wide);
          const high = tall(Math.abs(Number(resultMinor)));
          const middle = step * (i + 0.5);
          const lettered = !sparse || i % 2 !== pillars.length % 2 || pillars.length <= 6;
          return (
            <g key={people}>
              <rect
                class={held ? (stands ? 'stands' : 'hangs') : 'unheld'}
                {...{ x: middle - across / 2, width: across, y: stands ? plank - high : plank, height: high }}
              />
              {lettered && (
                <text x={middle} y={stands ? plank - high - 7 : plank + high + 16} text-anchor="middle">
                  {about(resultMinor)}
                </text>
              )}
              <text x={middle} y={foot + 18} text-anchor="middle" class="strong">
                {people}
              </text>
              {lettered && under && (
                <text x={middle} y={foot + 36} text-anchor="middle" class="quiet">
                  {under[sparse ? 1 : 0]}
                </text>
              )}
            </g>
          );
        })}
        {over?.({ step, width, plank, foot })}
        <line class="plank" x1="0" x2={width} y1={plank} y2={plank} />
      </svg>
    </div>
  );
}
