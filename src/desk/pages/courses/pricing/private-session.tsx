import { useMemo, useState } from 'preact/hooks';
import { Decimal } from '../../../../trade/money/money.js';
import type { Schemas } from '../../../api/client';
import { type Assumption, AssumptionsNote } from '../../../basics/assumptions';
import { useCalm } from '../../../charts/use-later';
import { ChangesSince } from './changes-since';
import { Pillars } from './column-chart';
import { LineTable } from './cost-table';
import { heads, type Words } from './labels';
import { leaves, targetSurplusInWords } from './outcome-labels';
import type { Works } from './price-works';
import { Heads } from './private-session-table';
import { AskHeads, type Wanted } from './private-what-if';
import { privateOutcome } from './recalculate';
import { SaveQuote } from './save-quote';
import { useWorkedOut } from './use-worked-out';

type Props = { price: Schemas['PrivatePrice']; words: Words };
type SessionProps = Props & { assumptions: readonly Assumption[] };
type Rung = Schemas['PrivateRung'];

const OTHERS = 0.35; // of the width of a pillar, for the heads that nobody asked about

/** A private session: what to ask the group and each head above it, and what comes of it with the heads that are asked for. */
export function PrivateSession({ price, assumptions, words }: SessionProps) {
  const { inputs } = price;
  const today: Wanted = {
    ...{ groupMinor: price.priceMinor, perHeadAboveMinor: price.perHeadAboveMinor },
    ...{ least: inputs.groupOf, most: inputs.groupOf },
  };
  const [wanted, setWanted] = useState(today);
  const { least, most } = wanted;
  const { prices, ladder } = useOutcome(inputs, wanted);
  const extra = ` and ${words.moneyInText(prices.perHeadAboveMinor)} for each extra person`;
  const asked = `${words.moneyInText(prices.groupMinor)}${inputs.groupOf < inputs.places ? extra : ''}`;
  // each part is drawn anew only when what it shows is another: a slider that moves draws itself alone
  const drawn = useMemo(
    () => (
      <Pillars
        pillars={ladder.map(({ heads: people, resultMinor }) => ({
          ...{ people, resultMinor, held: true, wide: people >= least && people <= most ? 1 : OTHERS },
        }))}
        label={`What is left over at ${asked}, for 1 to ${inputs.places} people; the table “At ${asked}” has each figure.`}
        about={words.about}
      />
    ),
    [ladder, least, most],
  );
  const calm = useCalm(ladder);
  const told = useMemo(
    () => <Heads caption={`At ${asked}`} rungs={calm} groupOf={inputs.groupOf} words={words} />,
    [calm],
  );
  const above = useMemo(
    () => (
      <>
        <PriceSummary {...{ price, assumptions, words }} />
        <ChangesSince price={price} words={words} />
      </>
    ),
    [price, assumptions],
  );
  const costs = useMemo(() => <Costs price={price} words={words} />, [price]);
  return (
    <>
      {above}
      <div class="bench">
        <div class="drawn">{drawn}</div>
        <div class="tried">
          <AskHeads {...{ price, today, wanted, words }} onChange={setWanted}>
            {outcome(inputs, ladder.slice(least - 1, most), asked, words)}
          </AskHeads>
          <SaveQuote courseId={price.courseId} />
        </div>
        <div class="told">{told}</div>
      </div>
      {costs}
    </>
  );
}

/** What comes of the prices that are tried, worked out beside the page. */
function useOutcome(inputs: Props['price']['inputs'], { groupMinor, perHeadAboveMinor }: Wanted) {
  const given = useMemo<Parameters<Works['privateOutcome']>>(
    () => [inputs, { groupMinor, perHeadAboveMinor }],
    [inputs, groupMinor, perHeadAboveMinor],
  );
  const first = useMemo(() => privateOutcome(...given), []);
  const { answer = first } = useWorkedOut('privateOutcome', given, first);
  return answer;
}

function PriceSummary({
  price: { inputs, result, priceMinor, perHeadAboveMinor },
  assumptions,
  words: { moneyInText: money },
}: SessionProps) {
  return (
    <>
      <p class="answer" aria-live="polite">
        Ask <b>{money(result.fairPriceMinor)}</b> for a group of up to {heads(inputs.groupOf)}
        {inputs.groupOf < inputs.places && (
          <>
            , and <b>{money(result.perHeadAboveMinor)}</b> for each above
          </>
        )}
        . It is sold today at {money(priceMinor)} and {money(perHeadAboveMinor)}.
      </p>
      <AssumptionsNote assumptions={assumptions} />
      <p>
        A full group covers its costs from {money(result.costFloorMinor)}, and pays your{' '}
        {money(inputs.wagePerHourMinor)} an hour too from {money(result.floorMinor)}; the price asked adds{' '}
        {targetSurplusInWords(inputs, money)}. One more person costs {money(result.oneMoreMinor)}
        {result.dearestHeads === null
          ? ', your time for it included.'
          : `; asking more also pays the second tutor, whom ${heads(result.dearestHeads)} need.`}
      </p>
    </>
  );
}

/** "At £180 they pay £180; it leaves £12 …", or the worst and the best of a range. */
function outcome(
  inputs: Props['price']['inputs'],
  rungs: readonly Rung[],
  prices: string,
  { moneyInText: money }: Words,
): string {
  const [first, last] = [rungs[0], rungs.at(-1)];
  if (!first || !last) return '';
  const hour = (rung: Rung) => `your hour brings ${money(rung.ownerPayPerHourMinor)}`;
  const result = ({ heads: people, resultMinor, ownerPayPerHourMinor }: Rung) => {
    const hours = new Decimal(inputs.ownerHoursPerStudent).times(people).plus(inputs.ownerHours);
    return leaves(resultMinor, hours.times(ownerPayPerHourMinor).toFixed(), money);
  };
  if (first === last)
    return `At ${prices} they pay ${money(first.chargedMinor)}; ${result(first)}, and ${hour(first)}.`;
  const sorted = [...rungs].sort((a, b) => new Decimal(a.resultMinor).comparedTo(b.resultMinor));
  const most = first.chargedMinor === last.chargedMinor ? '' : ` to ${money(last.chargedMinor)}`;
  const paid = `${money(first.chargedMinor)}${most}`;
  const [worst, best] = [sorted[0] ?? first, sorted.at(-1) ?? last];
  return (
    `At ${prices} they pay ${paid}; at worst, with ${worst.heads}, ` +
    `${result(worst)} and ${hour(worst)}; at best, with ${best.heads}, ${result(best)} and ${hour(best)}.`
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
      <LineTable caption="What each person costs" lines={each} words={words} />
      <LineTable caption="What the session costs, however many come" lines={whole} words={words} />
    </>
  );
}
