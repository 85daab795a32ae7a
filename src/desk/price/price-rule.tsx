import type { Reckoning } from './reckoning';
import { useWidth } from './width';
import type { moneyIn } from './words';

type Mark = { minor: number; label: string; asked?: boolean };
type Props = { sold: number; reckoning: Reckoning; money: ReturnType<typeof moneyIn> };

const HEIGHT = 132;
const LINE = 62;
const LABEL_WIDTH = 104;

/** The rule of prices: where it loses money, where it pays too little, where it is fair; and where today's price lies on it. */
export function PriceRule({ sold, reckoning: { result, askedMinor }, money }: Props) {
  const [ref, width] = useWidth();
  const floor = Number(result.floorMinor);
  const fair = result.fairPriceMinor;
  const marks: Mark[] = [
    { minor: floor, label: 'floor' },
    { minor: fair, label: 'fair' },
    { minor: sold, label: 'sold today' },
    ...(askedMinor === fair ? [] : [{ minor: askedMinor, label: 'you try', asked: true }]),
  ];
  const all = marks.map(({ minor }) => minor);
  const margin = Math.max(...all) * 0.08;
  const [from, to] = [Math.min(...all) - margin, Math.max(...all) + margin];
  const x = (minor: number) => 4 + ((minor - from) / (to - from)) * (width - 8);
  const said = marks.map(({ minor, label }) => `${label} ${money(Math.round(minor))}`).join(', ');
  return (
    <div ref={ref}>
      <svg height={HEIGHT} viewBox={`0 0 ${width} ${HEIGHT}`} role="img" aria-label={`Prices: ${said}.`}>
        <line class="rule-line loses" x1={x(from)} x2={x(floor)} y1={LINE} y2={LINE} />
        <line class="rule-line thin" x1={x(floor)} x2={x(fair)} y1={LINE} y2={LINE} />
        <line class="rule-line good" x1={x(fair)} x2={x(to)} y1={LINE} y2={LINE} />
        {placed(marks, x, width).map(({ minor, label, asked, at, above }) => (
          <g key={label}>
            <line class={asked ? 'mark asked' : 'mark'} x1={x(minor)} x2={x(minor)} y1={LINE - 9} y2={LINE + 9} />
            <text x={at} y={above ? LINE - 34 : LINE + 30} text-anchor="middle" class="strong">
              {money(Math.round(minor))}
            </text>
            <text x={at} y={above ? LINE - 17 : LINE + 48} text-anchor="middle" class="quiet">
              {label}
            </text>
          </g>
        ))}
      </svg>
    </div>
  );
}

/** Labels above and below in turn, pushed apart where two on one side would touch. */
function placed(marks: readonly Mark[], x: (minor: number) => number, width: number) {
  const last = { above: Number.NEGATIVE_INFINITY, below: Number.NEGATIVE_INFINITY };
  return [...marks]
    .sort((a, b) => a.minor - b.minor)
    .map((mark, i) => {
      const side = i % 2 === 0 ? 'above' : 'below';
      const clear = Math.max(x(mark.minor), last[side] + LABEL_WIDTH);
      const at = Math.min(width - LABEL_WIDTH / 2, Math.max(LABEL_WIDTH / 2, clear));
      last[side] = at;
      return { ...mark, at, above: side === 'above' };
    });
}
