import { along, around } from '../../../charts/linear-scale';
import { useWidth } from '../../../charts/use-width';
import type { Words } from './labels';
import { placeLabels } from './place-labels';
import type { Calculation } from './recalculate';

type Mark = { value: number; shown: string; label: string; asked?: boolean };
type Props = { calculation: Calculation; words: Words };

const HEIGHT = 120;
const LINE = 62;
const LABEL_WIDTH = 104;

/** The rule of prices: up to where it costs money, from where the owner's hour is paid too, where it is fair; and where today's price is. */
export function PriceRule({ calculation: { result, askedMinor, soldMinor: sold }, words: { money } }: Props) {
  const [ref, width] = useWidth();
  const [costs, floor] = [Number(result.costFloorMinor), Number(result.floorMinor)];
  const fair = result.fairPriceMinor;
  const marks: Mark[] = [
    { value: costs, shown: money(result.costFloorMinor), label: 'costs covered' },
    { value: floor, shown: money(result.floorMinor), label: 'your hour paid' },
    { value: fair, shown: money(fair), label: 'fair' },
    { value: sold, shown: money(sold), label: 'sold today' },
    ...(askedMinor === fair ? [] : [{ value: askedMinor, shown: money(askedMinor), label: 'you try', asked: true }]),
  ];
  const ends = around(
    marks.map(({ value }) => value),
    0.08,
  );
  const x = along(ends, { from: 4, to: width - 4 });
  const said = marks.map(({ shown, label }) => `${label} ${shown}`).join(', ');
  return (
    <div ref={ref}>
      <svg height={HEIGHT} viewBox={`0 0 ${width} ${HEIGHT}`} role="img" aria-label={`Prices: ${said}.`}>
        <line class="rule-line loses" x1={x(ends.from)} x2={x(costs)} y1={LINE} y2={LINE} />
        <line class="rule-line thin" x1={x(costs)} x2={x(fair)} y1={LINE} y2={LINE} />
        <line class="rule-line good" x1={x(fair)} x2={x(ends.to)} y1={LINE} y2={LINE} />
        {placed(marks, x, width).map(({ value, shown, label, asked, at, above }) => (
          <g key={label}>
            <line class={asked ? 'mark asked' : 'mark'} x1={x(value)} x2={x(value)} y1={LINE - 9} y2={LINE + 9} />
            <text x={at} y={above ? LINE - 34 : LINE + 30} text-anchor="middle" class="strong">
              {shown}
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

/** Labels above and below in turn. */
function placed(marks: readonly Mark[], x: (value: number) => number, width: number) {
  const sorted = [...marks].sort((a, b) => a.value - b.value).map((mark, i) => ({ ...mark, above: i % 2 === 0 }));
  return [true, false].flatMap((above) => {
    const own = sorted.filter((mark) => mark.above === above);
    const at = placeLabels(
      own.map(({ value }) => x(value)),
      LABEL_WIDTH,
      width,
    );
    return own.map((mark, i) => ({ ...mark, at: at[i] ?? 0 }));
  });
}
