import { Decimal } from '../../../../trade/money/money.js';
import { type Block, blocksOf, type Debtor } from '../../../actions/payment/charge-totals';
import type { Formatter } from '../../../format/formatter';

type Props = { debtors: readonly Debtor[]; formatter: Formatter };

/** One plank for each person, with what they owe lying on it, to one scale. Each says in words what it shows. */
export function Planks({ debtors, formatter }: Props) {
  const most = Math.max(...debtors.map(({ owedMinor }) => owedMinor));
  return (
    <section aria-labelledby="planks">
      <h2 id="planks">
        What each person owes <span>to one scale, the most due first</span>
      </h2>
      <ul class="owing">
        {debtors.map((debtor) => (
          <li key={debtor.personId}>
            <span class="who">{debtor.name}</span>
            <Plank blocks={blocksOf(debtor)} most={most} />
            <span class="sum">{inWords(debtor, formatter)}</span>
          </li>
        ))}
      </ul>
      <p class="legend">
        <span>
          <Sample due firing={false} /> due
        </span>
        <span>
          <Sample due={false} firing={false} /> not due yet
        </span>
        <span>
          <Sample due firing /> round on top: a firing fee
        </span>
      </p>
    </section>
  );
}

function inWords({ owedMinor, dueMinor }: Debtor, { money }: Formatter): string {
  if (dueMinor === 0) return `${money(owedMinor)}, not due yet`;
  if (dueMinor === owedMinor) return `${money(owedMinor)} due`;
  return `${money(dueMinor)} due, ${money(owedMinor - dueMinor)} later`;
}

const HEIGHT = 26;
const ROUND = 13;

function Plank({ blocks, most }: { blocks: Block[]; most: number }) {
  let before = 0;
  return (
    <svg height={HEIGHT + 3} aria-hidden="true">
      {blocks.map(({ key, minor, due, firing }) => {
        const x = before;
        const width = new Decimal(minor).div(most).toNumber();
        before += width;
        return <Lying key={key} {...{ due, firing }} x={percent(x)} width={percent(width)} />;
      })}
      <line class="plank" x1="0" x2="100%" y1={HEIGHT + 1.5} y2={HEIGHT + 1.5} />
    </svg>
  );
}

/** A rounded block reaches below its plank and is cut there, so that only its top is round. */
function Lying({ due, firing, x, width }: Pick<Block, 'due' | 'firing'> & { x: string; width: string }) {
  const round = firing ? { rx: ROUND, height: HEIGHT + ROUND } : { height: HEIGHT };
  return <rect class={due ? 'due' : 'later'} {...{ x, width }} y={1} {...round} />;
}

function Sample({ due, firing }: { due: boolean; firing: boolean }) {
  return (
    <svg class="sample" width="24" height="16" aria-hidden="true">
      <rect class={due ? 'due' : 'later'} x="1" y="1" width="22" height={firing ? 26 : 14} rx={firing ? 11 : 0} />
    </svg>
  );
}

const percent = (share: number) => `${(share * 100).toFixed(3)}%`;
