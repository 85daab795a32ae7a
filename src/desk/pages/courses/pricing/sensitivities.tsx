import { Decimal } from '../../../../trade/money/money.js';
import type { Sensitivity } from '../../../../trade/pricing/course-price.js';
import { along } from '../../../charts/linear-scale';
import { Disclosure } from '../../../ui/disclosure';
import { Bar } from './diverging-bar';
import type { Words } from './labels';
import type { Calculation } from './recalculate';

type Props = { calculation: Calculation; words: Words };

/** What the fair price hangs on: what each change by itself would make of it, to one scale, the greatest first. */
export function Sensitivities({ calculation: { sensitivities, result }, words }: Props) {
  const most = Math.max(1, ...sensitivities.map(({ deltaMinor }) => Math.abs(Number(deltaMinor))));
  const percent = along({ from: 0, to: most }, { from: 0, to: 50 });
  return (
    <Disclosure late title="What moves the price" note="each change by itself, before the price is rounded">
      <ol class="hangs-on">
        {sensitivities.map((found) => (
          <li key={found.key}>
            <span>
              {found.label} <small>{found.change}</small>
            </span>
            <Bar percent={percent(Number(found.deltaMinor))} />
            <span class="number">{effect(found, words)}</span>
            <small class="number">{found.fairPriceMinor !== result.fairPriceMinor && fair(found, words)}</small>
          </li>
        ))}
      </ol>
    </Disclosure>
  );
}

const fair = ({ fairPriceMinor }: Sensitivity, { money }: Words) => `fair: ${money(fairPriceMinor)}`;

function effect({ deltaMinor }: Sensitivity, { money }: Words): string {
  const delta = new Decimal(deltaMinor);
  if (delta.isZero()) return 'no effect';
  return `${money(delta.abs().toFixed())} ${delta.gt(0) ? 'more' : 'less'}`;
}
