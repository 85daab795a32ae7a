import { Decimal } from '../../../../trade/money/money.js';
import type { Formatter } from '../../../format/formatter';
import { better } from './labels';
import type { Was } from './queries';

type Props = { was: Was; formatter: Formatter };

/** What made the difference, to one scale on both sides of "as planned"; each says in words what it shows. */
export function Effects({ was: { because }, formatter }: Props) {
  if (because.length === 0) return null;
  const most = Math.max(...because.map(({ differenceMinor }) => Math.abs(differenceMinor)));
  return (
    <section aria-labelledby="effects">
      <h2 id="effects">
        What made the difference <span>to one scale, the greatest effect first; they add up to all of it</span>
      </h2>
      <ul class="effects">
        {because.map(({ key, label, differenceMinor }) => (
          <li key={key}>
            <span class="what">{label}</span>
            <Effect minor={differenceMinor} most={most} />
            <span class={differenceMinor > 0 ? 'by celadon' : 'by iron'}>
              {better(differenceMinor, formatter.money)}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

const HEIGHT = 20;

function Effect({ minor, most }: { minor: number; most: number }) {
  const width = new Decimal(Math.abs(minor)).div(most).times(50).toNumber();
  const x = minor > 0 ? 50 : 50 - width;
  return (
    <svg height={HEIGHT} aria-hidden="true">
      <rect
        class={minor > 0 ? 'gained' : 'lost'}
        x={`${x.toFixed(3)}%`}
        width={`${width.toFixed(3)}%`}
        y={3}
        height={HEIGHT - 6}
      />
      <line class="as-planned" x1="50%" x2="50%" y1={0} y2={HEIGHT} />
    </svg>
  );
}
