import { along } from '../../../charts/linear-scale';
import { useWidth } from '../../../charts/use-width';
import type { Formatter } from '../../../format/formatter';
import { formatQuantity, shortDate } from '../../../format/quantity';
import { chanceBy, type Item, told, verb } from './labels';
import { band, corners, daysFrom, path } from './step-path';

type Props = { item: Item; today: string; formatter: Formatter };

const HEIGHT = 120;
const LINE = 18; // px a line of lettering
const LETTERS = 70; // px that a date needs beneath its day
const LEAST_DAYS = 14; // a single session next week is not drawn as the end of the world

/** What is left day by day: it stands on the plank; what hangs beneath is missing. */
export function Drawing({ item, today, formatter }: Props) {
  const [ref, width] = useWidth();
  const days = Math.max(LEAST_DAYS, ...item.rows.map(({ day }) => daysFrom(today, day) + 2));
  const lows = item.rows.map(({ leftAtWorst }) => leftAtWorst);
  const highs = item.rows.map(({ leftIfBooked }) => leftIfBooked); // a delivery can leave more than there is today
  const marks = marksOf(item, today, formatter);
  const top = marks.length * LINE + 24;
  const across = along({ from: 0, to: days }, { from: 1, to: width - 1 });
  const y = along(
    { from: Math.max(1, item.onHand, ...highs), to: Math.min(0, ...lows) },
    { from: top, to: top + HEIGHT },
  );
  const scale = { x: (day: string) => across(Math.max(0, daysFrom(today, day))), y, end: width };
  const foot = top + HEIGHT + 6;
  return (
    <div ref={ref} class="stock">
      <svg
        height={foot + LINE + 4}
        viewBox={`0 0 ${width} ${foot + LINE + 4}`}
        role="img"
        aria-label={`${item.name}: ${formatQuantity(item.onHand, item.unit, formatter)} on the shelf. ${told(item, today, formatter).join(' ')}`}
      >
        <path class="likely" d={band(item, today, scale, 'above')} />
        <path class="missing" d={band(item, today, scale, 'below')} />
        <path class="worst" d={path(corners(item, today, 'leftAtWorst', scale))} />
        <path class="expected" d={path(corners(item, today, 'leftExpected', scale))} />
        <line class="plank" x1="0" x2={width} y1={y(0)} y2={y(0)} />
        <text x="0" y={top - 7} class="strong">
          {formatQuantity(item.onHand, item.unit, formatter)}
        </text>
        {marks.map(({ day, kind, text }, i) => {
          const x = scale.x(day);
          const right = x > width / 2;
          return (
            <g key={kind} class={`mark-${kind}`}>
              <line x1={x} x2={x} y1={i * LINE + 3} y2={y(0)} />
              <text x={right ? x - 6 : x + 6} y={i * LINE + 14} text-anchor={right ? 'end' : 'start'}>
                {text}
              </text>
            </g>
          );
        })}
        <Days item={item} today={today} formatter={formatter} x={scale.x} foot={foot} width={width} />
      </svg>
    </div>
  );
}

type Mark = { day: string; kind: 'order' | 'ten' | 'two' | 'sure'; text: string };

function marksOf(item: Item, today: string, formatter: Formatter): Mark[] {
  const { orderBy } = item;
  const { oneInTen, oneInTwo, sure } = item.shortOn;
  const marks: Mark[] = [];
  if (orderBy) {
    const day = orderBy < today ? today : orderBy;
    marks.push({
      day,
      kind: 'order',
      text: orderBy < today ? `${verb(item)} at once` : `${verb(item)} by ${shortDate(orderBy, formatter)}`,
    });
  }
  if (oneInTen && oneInTen !== oneInTwo && oneInTen !== sure)
    marks.push({ day: oneInTen, kind: 'ten', text: `${chanceBy(item, oneInTen, formatter)} chance of running out` });
  if (oneInTwo && oneInTwo !== sure)
    marks.push({ day: oneInTwo, kind: 'two', text: `${chanceBy(item, oneInTwo, formatter)} chance of running out` });
  if (sure) marks.push({ day: sure, kind: 'sure', text: 'out on current bookings' });
  return marks;
}

type DaysProps = Props & { x(day: string): number; foot: number; width: number };

/** Each day on which something is drawn has its tick; its date where there is room. */
function Days({ item, today, formatter, x, foot, width }: DaysProps) {
  let free = LETTERS;
  return (
    <g>
      <text x="0" y={foot + LINE - 2} class="quiet">
        today
      </text>
      {item.rows.map(({ day }) => {
        const at = x(day);
        const written = at >= free && day !== today;
        if (written) free = at + LETTERS;
        const nearEnd = at > width - LETTERS / 2;
        return (
          <g key={day}>
            <line class="tick" x1={at} x2={at} y1={foot - 4} y2={foot + 2} />
            {written && (
              <text x={nearEnd ? width : at} y={foot + LINE - 2} text-anchor={nearEnd ? 'end' : 'middle'} class="quiet">
                {shortDate(day, formatter)}
              </text>
            )}
          </g>
        );
      })}
    </g>
  );
}
