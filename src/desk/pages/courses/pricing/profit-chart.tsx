import { type Ground, Pillars } from './column-chart';
import type { Words } from './labels';
import type { Calculation } from './recalculate';

type Props = { calculation: Calculation; words: Words };

const ROOM_FOR_WORDS = 210; // px

/** What is left at each number of students; a pillar is as wide as that number is likely. */
export function ProfitChart({
  calculation: { asked, askedMinor },
  words: { money, about, percent, aboutPercent },
}: Props) {
  const rungs = asked.ladder;
  const likeliest = Math.max(...rungs.map(({ probability }) => Number(probability)));
  return (
    <Pillars
      pillars={rungs.map(({ students, resultMinor, probability, held }) => ({
        ...{ people: students, resultMinor, held },
        ...{ wide: Number(probability) / likeliest, under: [percent(probability), aboutPercent(probability)] },
      }))}
      label={`What is left over at ${money(askedMinor)} a place, for ${rungs[0]?.students} to ${rungs.at(-1)?.students} students; the table “At ${money(askedMinor)} a place” has each figure.`}
      about={about}
      over={(ground) => <Carried asked={asked} {...ground} />}
    />
  );
}

/** From which number of students on all costs and the owner's time are paid. */
function Carried({
  asked: { ladder, breakEvenStudents, negativeAgainAt },
  step,
  width,
  plank,
  foot,
}: Ground & { asked: Calculation['asked'] }) {
  const before = ladder.findIndex(({ students }) => students === breakEvenStudents);
  if (before < 1 || negativeAgainAt.length > 0) return null;
  const x = step * before;
  return (
    <g>
      <line class="carried" x1={x} x2={x} y1={plank} y2={foot + 22} />
      {width - x > ROOM_FOR_WORDS && (
        <text class="quiet" x={x + 8} y={plank + 20}>
          from {breakEvenStudents} your time is paid in full
        </text>
      )}
    </g>
  );
}
