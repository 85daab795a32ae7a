import type { PriceResult } from '../../trade/course-price.js';
import { Decimal, roundTogether } from '../../trade/money.js';
import type { ComparedRow, Comparison, Factor } from '../../trade/price-compare.js';
import { Bar } from './bar';
import { along } from './scale';
import type { Words } from './words';

type Side = { title: string; result: PriceResult };
type Props = { first: Side; second: Side; compared: Comparison; words: Words };

/** The figures of both, and each thing in which they differ with what it makes of the price; its column adds up. */
export function BesideTable({ first, second, compared, words }: Props) {
  const { money } = words;
  const difference = compared.secondMinor - compared.firstMinor;
  const amount = money(Math.abs(difference));
  return (
    <>
      <p>
        {difference === 0
          ? `Both come to ${money(compared.firstMinor)}.`
          : `“${second.title}” must cost ${amount} ${difference > 0 ? 'more' : 'less'}: ${money(compared.secondMinor)} instead of ${money(compared.firstMinor)}.`}
      </p>
      <Figures {...{ first, second, words }} />
      {compared.rows.length > 0 && <Differences compared={compared} words={words} />}
    </>
  );
}

function Figures({ first, second, words: { money } }: Omit<Props, 'compared'>) {
  const rows: [string, (result: PriceResult) => string][] = [
    ['Fair price', ({ fairPriceMinor }) => money(fairPriceMinor)],
    ['Floor', ({ floorMinor }) => money(floorMinor)],
    ['Your pay an hour', ({ payPerHour }) => money(payPerHour.meanMinor)],
    ['Carried by', ({ breakEvenStudents }) => (breakEvenStudents === null ? 'no number' : String(breakEvenStudents))],
    ['What each student costs', ({ perStudentMinor }) => money(perStudentMinor)],
  ];
  return (
    <table class="both">
      <caption>Both at their fair price</caption>
      <thead>
        <tr>
          <th scope="col">Figure</th>
          <th scope="col" class="number">
            {first.title}
          </th>
          <th scope="col" class="number">
            {second.title}
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map(([label, of]) => (
          <tr key={label}>
            <th scope="row">{label}</th>
            <td class="number">{of(first.result)}</td>
            <td class="number">{of(second.result)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const CALLED: Record<Factor, string> = {
  hours: 'Your hours',
  wage: 'Your hour’s worth',
  tutor: 'The second tutor',
  offer: 'Places, minimum and how many book',
  paid: 'VAT, card, payments and other prices',
  wishes: 'What you want left over, and how safely',
  rounding: 'Rounding to the step',
};

function Differences({ compared: { rows, firstMinor, secondMinor }, words }: Pick<Props, 'compared' | 'words'>) {
  const effects = roundTogether(rows.map(({ effectMinor }) => new Decimal(effectMinor)));
  const most = Math.max(1, ...rows.map(({ effectMinor }) => Math.abs(Number(effectMinor))));
  const percent = along({ from: 0, to: most }, { from: 0, to: 50 });
  return (
    <table class="differs">
      <caption>What makes the difference, the greatest first</caption>
      <thead>
        <tr>
          <th scope="col">What</th>
          <th scope="col" class="number">
            On the price
          </th>
          <td />
        </tr>
      </thead>
      <tbody>
        {rows.map((row, i) => (
          <tr key={row.key}>
            <th scope="row">
              {row.line?.label ?? CALLED[row.key as Factor]} <small>{lineTold(row, words)}</small>
            </th>
            <td class="number">{signed(effects.partsMinor[i] ?? 0, words)}</td>
            <td class="bar">
              <Bar percent={percent(Number(row.effectMinor))} />
            </td>
          </tr>
        ))}
        <tr class="sum">
          <th scope="row">Together</th>
          <td class="number">{signed(secondMinor - firstMinor, words)}</td>
          <td />
        </tr>
      </tbody>
    </table>
  );
}

const lineTold = ({ line }: ComparedRow, { money }: Words) =>
  line &&
  `${line.second === null ? 'none' : money(line.second)} instead of ${line.first === null ? 'none' : money(line.first)}`;

const signed = (minor: number, { money }: Words) => `${minor < 0 ? '−' : '+'}${money(Math.abs(minor))}`;
