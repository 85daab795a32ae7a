import { useMemo, useState } from 'preact/hooks';
import { parseMoney } from '../../../../trade/text/parse-input.js';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { Disclosure } from '../../../ui/disclosure';
import type { Words } from './labels';
import type { Works } from './price-works';
import type { Calculation } from './recalculate';
import { changeInWords } from './target-price-labels';
import { useWorkedOut } from './use-worked-out';

type Props = { calculation: Calculation; words: Words };

/** A price of at most so much: the cheapest changes that bring the course there, each by itself. It begins one step below the fair price. */
export function TargetPrice({ calculation, words }: Props) {
  const { inputs, result } = calculation;
  const [typed, setTyped] = useState<string | null>(null);
  const next = Math.max(result.fairPriceMinor - inputs.priceStepMinor, 0);
  const shown = typed ?? words.figures(next);
  const ceiling = typed === null ? next : ceilingTyped(typed, inputs.currency);
  return (
    <Disclosure late title="Get the price down" note="the smallest changes that are enough by themselves">
      <div class="choice">
        <Field
          label={`Try to get down to, in ${inputs.currency}`}
          figures
          value={shown}
          fault={typeof ceiling === 'string' ? ceiling : undefined}
          onChange={setTyped}
        />
      </div>
      <div aria-live="polite">
        {typeof ceiling !== 'string' && (
          <Changes calculation={{ inputs, result }} ceilingMinor={ceiling} words={words} />
        )}
      </div>
    </Disclosure>
  );
}

/** In whole minor units, or the sentence that says what to write. */
function ceilingTyped(typed: string, currency: string): number | string {
  try {
    return parseMoney(typed, currency, 1);
  } catch (error) {
    return (error as Error).message;
  }
}

type ChangesProps = { calculation: Pick<Calculation, 'inputs' | 'result'>; ceilingMinor: number; words: Words };

function Changes({ calculation: { inputs, result }, ceilingMinor, words }: ChangesProps) {
  const given = useMemo<Parameters<Works['cheapestChanges']>>(() => [inputs, ceilingMinor], [inputs, ceilingMinor]);
  const { answer: changes, error } = useWorkedOut('cheapestChanges', given);
  if (error) return <ErrorMessage>{error}</ErrorMessage>;
  if (!changes) return <p class="quiet">Working out the changes.</p>;
  if (changes.length === 0)
    return <p>It need not cost more than {words.moneyInText(result.fairPriceMinor)} as it is.</p>;
  const enough = changes.filter(({ to }) => to !== 'never');
  if (enough.length === 0)
    return <p>No single change brings it to {words.moneyInText(ceilingMinor)}. Several together may.</p>;
  return (
    <>
      <ol class="changes">
        {enough.map((change) => (
          <li key={change.key}>{changeInWords(change, inputs, words)}</li>
        ))}
      </ol>
      {enough.length < changes.length && <p class="quiet">No other single change is enough.</p>}
    </>
  );
}
