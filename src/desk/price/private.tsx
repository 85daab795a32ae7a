import { useState } from 'preact/hooks';
import { Decimal } from '../../trade/money.js';
import { privateLadderAt } from '../../trade/price-private.js';
import type { Schemas } from '../client';
import { leaves } from './answer';
import { Keep } from './keep';
import { LineTable } from './lines';
import { Slider } from './slider';
import type { Words } from './words';

type Props = { price: Schemas['PrivatePrice']; words: Words };
type Rung = Schemas['PrivateRung'];

/** A private session: what to ask the group and each head above it, and what comes of it with the heads that are asked for. */
export function PrivateSession({ price, words }: Props) {
  const { inputs, result } = price;
  const { money } = words;
  const [from, setFrom] = useState(inputs.groupOf);
  const [to, setTo] = useState(inputs.groupOf);
  const sold = privateLadderAt(inputs, { groupMinor: price.priceMinor, perHeadAboveMinor: price.perHeadAboveMinor });
  const heads = (count: number) => (count === 1 ? '1 head' : `${count} heads`);
  return (
    <>
      <p class="answer" aria-live="polite">
        Ask <b>{money(result.fairPriceMinor)}</b> for a group of up to {heads(inputs.groupOf)}
        {inputs.groupOf < inputs.places && (
          <>
            , and <b>{money(result.perHeadAboveMinor)}</b> for each above
          </>
        )}
        . It is sold today at {money(price.priceMinor)} and {money(price.perHeadAboveMinor)}.
      </p>
      <p>
        Below {money(result.floorMinor)} a full group does not pay for its costs and your time. One more costs{' '}
        {money(result.oneMoreMinor)}
        {result.dearestHeads === null
          ? ', your time for it included.'
          : `; asking more also pays the second tutor, whom ${heads(result.dearestHeads)} need.`}
      </p>
      <section class="what-if asked-heads">
        <h2>How many come?</h2>
        <Slider
          {...{ label: 'At least', shown: heads(from), value: from, min: 1, max: inputs.places }}
          onInput={(next) => {
            setFrom(next);
            setTo(Math.max(next, to));
          }}
        />
        <Slider
          {...{ label: 'At most', shown: heads(to), value: to, min: 1, max: inputs.places }}
          onInput={(next) => {
            setTo(next);
            setFrom(Math.min(next, from));
          }}
        />
        <p class="outcome" aria-live="polite">
          {outcome(sold.slice(from - 1, to), words)}
        </p>
      </section>
      <Heads rungs={sold} groupOf={inputs.groupOf} words={words} />
      <Costs price={price} words={words} />
      <Keep courseId={price.courseId} />
    </>
  );
}

/** "At today's price 5 heads pay £180.00; it leaves £12.00 …", or the worst and the best of a range. */
function outcome(rungs: readonly Rung[], { money }: Words): string {
  const [first, last] = [rungs[0], rungs.at(-1)];
  if (!first || !last) return '';
  const hour = (rung: Rung) => `your hour brings ${money(rung.ownerPayPerHourMinor)}`;
  if (first === last)
    return `At today’s price they pay ${money(first.chargedMinor)}; ${leaves(first.resultMinor, money)}, and ${hour(first)}.`;
  const sorted = [...rungs].sort((a, b) => new Decimal(a.resultMinor).comparedTo(b.resultMinor));
  const most = first.chargedMinor === last.chargedMinor ? '' : ` to ${money(last.chargedMinor)}`;
  const paid = `${money(first.chargedMinor)}${most}`;
  const [worst, best] = [sorted[0] ?? first, sorted.at(-1) ?? last];
  return (
    `At today’s price they pay ${paid}; at worst, with ${worst.heads}, ` +
    `${leaves(worst.resultMinor, money)} and ${hour(worst)}; at best, with ${best.heads}, ${leaves(best.resultMinor, money)} and ${hour(best)}.`
  );
}

function Heads({ rungs, groupOf, words: { money } }: { rungs: readonly Rung[]; groupOf: number; words: Words }) {
  return (
    <section>
      <table class="rungs">
        <caption>At today’s price</caption>
        <thead>
          <tr>
            <th scope="col">Heads</th>
            <th scope="col" class="number">
              They pay
            </th>
            <th scope="col" class="number">
              Left over
            </th>
            <th scope="col" class="number">
              Your pay an hour
            </th>
            <th scope="col" class="number">
              Cost per head
            </th>
          </tr>
        </thead>
        <tbody>
          {rungs.map((rung) => (
            <tr key={rung.heads}>
              <th scope="row">
                {rung.heads} {rung.heads > groupOf && <small>above the group</small>}
              </th>
              <td class="number">{money(rung.chargedMinor)}</td>
              <td class={Number(rung.resultMinor) < 0 ? 'number left iron' : 'number left'}>
                {money(rung.resultMinor)}
              </td>
              <td class="number hourly">{money(rung.ownerPayPerHourMinor)}</td>
              <td class="number each">{money(rung.costPerHeadMinor)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Costs({ price: { inputs, result }, words }: Props) {
  const of = (basis: string) =>
    result.lines
      .filter((line) => line.basis === basis)
      .map((line) => ({ ...line, from: line.source.detail, assumed: line.source.kind === 'assumption' }));
  const hours = (key: string, count: string) => ({
    ...{ key, label: 'Your time', quantity: count, unit: 'h', rateMinor: String(inputs.wagePerHourMinor) },
    amountMinor: new Decimal(count).times(inputs.wagePerHourMinor).toFixed(),
    ...{ from: 'What your hour is worth, from the settings; the hours are the plan’s.', assumed: false },
  });
  const each = [...of('per-student'), hours('hours-each', inputs.ownerHoursPerStudent)];
  const whole = [...of('per-course'), hours('hours', inputs.ownerHours)];
  return (
    <>
      <LineTable caption="What each head costs" lines={each} words={words} />
      <LineTable caption="What the session costs, however many come" lines={whole} words={words} />
    </>
  );
}
