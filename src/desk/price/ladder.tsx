import type { Reckoning } from './reckoning';
import { along } from './scale';
import { useWidth } from './width';
import type { Words } from './words';

type Props = { reckoning: Reckoning; words: Words };

const HEIGHT = 150;
const LEGEND = 52;
const TIGHT = 46; // px for one number of students; below it only every second one is written out
const ROOM_FOR_WORDS = 160; // px

/**
 * What is left at each number of students: above the plank it stands, below it is lost. A pillar is as wide as that number is likely;
 * the numbers at which the course is not held are dashed.
 */
export function Ladder({ reckoning: { asked, askedMinor }, words: { money, about, percent, aboutPercent } }: Props) {
  const [ref, width] = useWidth();
  const rungs = asked.ladder;
  const results = rungs.map(({ resultMinor }) => Number(resultMinor));
  const most = Math.max(1, ...results);
  const least = Math.min(-1, ...results);
  const tall = along({ from: 0, to: Math.max(most, -least) }, { from: 0, to: HEIGHT });
  const [up, down] = [tall(most) + 26, tall(-least) + 22];
  const step = width / rungs.length;
  const likeliest = Math.max(...rungs.map(({ probability }) => Number(probability)));
  const sparse = step < TIGHT;
  return (
    <div ref={ref}>
      <svg
        height={up + down + LEGEND}
        viewBox={`0 0 ${width} ${up + down + LEGEND}`}
        role="img"
        aria-label={`What is left over at ${money(askedMinor)} a place, for ${rungs[0]?.students} to ${rungs.at(-1)?.students} students; the table “At ${money(askedMinor)} a place” has each figure.`}
      >
        {rungs.map((rung, i) => {
          const result = Number(rung.resultMinor);
          const wide = Math.max(4, (step - 10) * (Number(rung.probability) / likeliest));
          const high = tall(Math.abs(result));
          const middle = step * (i + 0.5);
          const kind = rung.held ? (result >= 0 ? 'stands' : 'hangs') : 'unheld';
          const label = !sparse || i % 2 !== rungs.length % 2 || rungs.length <= 6;
          return (
            <g key={rung.students}>
              <rect class={kind} x={middle - wide / 2} width={wide} y={result >= 0 ? up - high : up} height={high} />
              {label && (
                <text x={middle} y={result >= 0 ? up - high - 7 : up + high + 16} text-anchor="middle">
                  {about(rung.resultMinor)}
                </text>
              )}
              <text x={middle} y={up + down + 18} text-anchor="middle" class="strong">
                {rung.students}
              </text>
              {label && (
                <text x={middle} y={up + down + 36} text-anchor="middle" class="quiet">
                  {sparse ? aboutPercent(rung.probability) : percent(rung.probability)}
                </text>
              )}
            </g>
          );
        })}
        <Carried asked={asked} step={step} width={width} plank={up} foot={up + down} />
        <line class="plank" x1="0" x2={width} y1={up} y2={up} />
      </svg>
    </div>
  );
}

type CarriedProps = { asked: Reckoning['asked']; step: number; width: number; plank: number; foot: number };

/** From which number of students on nothing is lost. */
function Carried({ asked: { breakEvenStudents, negativeAgainAt }, step, width, plank, foot }: CarriedProps) {
  if (breakEvenStudents === null || breakEvenStudents === 1 || negativeAgainAt.length > 0) return null;
  const x = step * (breakEvenStudents - 1);
  return (
    <g>
      <line class="carried" x1={x} x2={x} y1={plank} y2={foot + 22} />
      {width - x > ROOM_FOR_WORDS && (
        <text class="quiet" x={x + 8} y={plank + 20}>
          from {breakEvenStudents} on nothing is lost
        </text>
      )}
    </g>
  );
}
