import { useWidth } from '../../../charts/use-width';
import { timeInWords } from './labels';
import type { Plan } from './queries';

type Sessions = Plan['sessions'];

const HEIGHT = 44;
const GAP = 8; // px between sessions, in which days pass
const LETTERED = 20;

/** The sessions on the plank, each as wide as its time; lighter at both ends what it takes to prepare and to clear up. */
export function Timeline({ sessions }: { sessions: Sessions }) {
  const [ref, width] = useWidth();
  const all = sessions.reduce(
    (sum, { minutes, prepareMinutes, clearMinutes }) => sum + minutes + prepareMinutes + clearMinutes,
    0,
  );
  const perMinute = Math.max(0, width - GAP * (sessions.length - 1)) / Math.max(1, all);
  let from = 0;
  const blocks = sessions.map((session, i) => {
    const [before, during, after] = [session.prepareMinutes, session.minutes, session.clearMinutes].map(
      (m) => m * perMinute,
    );
    const block = { i, purpose: session.purpose, x: from, before: before ?? 0, during: during ?? 0, after: after ?? 0 };
    from += block.before + block.during + block.after + GAP;
    return block;
  });
  const told = sessions.map(({ purpose, minutes }) => `${purpose} ${timeInWords(minutes)}`).join(', ');
  return (
    <div ref={ref} class="timeline">
      <svg height={HEIGHT + 4} viewBox={`0 0 ${width} ${HEIGHT + 4}`} role="img" aria-label={`In order: ${told}`}>
        {blocks.map(({ i, purpose, x, before, during, after }) => (
          <g key={i}>
            <rect class="around" x={x} y="18" width={before} height={HEIGHT - 18} />
            <rect class={purpose} x={x + before} y="2" width={during} height={HEIGHT - 2} />
            <rect class="around" x={x + before + during} y="18" width={after} height={HEIGHT - 18} />
            {during >= LETTERED && (
              <text x={x + before + during / 2} y={HEIGHT / 2 + 6} text-anchor="middle" class="strong">
                {i + 1}
              </text>
            )}
          </g>
        ))}
        <line class="plank" x1="0" x2={width} y1={HEIGHT + 1} y2={HEIGHT + 1} />
      </svg>
    </div>
  );
}
