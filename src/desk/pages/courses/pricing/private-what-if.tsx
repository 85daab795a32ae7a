import type { ComponentChildren } from 'preact';
import type { Schemas } from '../../../api/client';
import { Slider } from '../../../forms/slider';
import { heads, type Words } from './labels';
import { finer } from './what-if';

/** What is tried: the prices in whole minor units, and between how many heads come. */
export type Wanted = { groupMinor: number; perHeadAboveMinor: number; least: number; most: number };

type Props = {
  price: Schemas['PrivatePrice'];
  today: Wanted;
  wanted: Wanted;
  onChange(next: Wanted): void;
  words: Words;
  children: ComponentChildren;
};

/** Prices and heads to try, with what comes of them at once. */
export function AskHeads({ price: { inputs, result }, today, wanted, onChange, words: { money }, children }: Props) {
  const { groupMinor, perHeadAboveMinor, least, most } = wanted;
  const step = finer(inputs.priceStepMinor);
  const twice = (now: number, fair: number) => Math.max(now, 2 * fair, step);
  const { places: max } = inputs;
  return (
    <form class="what-if group-what-if" onSubmit={(event) => event.preventDefault()} aria-label="What if">
      <h2>What if</h2>
      <p class="outcome" aria-live="polite">
        {children}
      </p>
      <Slider
        {...{ label: 'You ask the group', shown: money(groupMinor), value: groupMinor, min: step, step }}
        max={twice(today.groupMinor, result.fairPriceMinor)}
        onInput={(next) => onChange({ ...wanted, groupMinor: next })}
      />
      {inputs.groupOf < max && (
        <Slider
          {...{ label: 'Each extra person', shown: money(perHeadAboveMinor), value: perHeadAboveMinor, min: 0, step }}
          max={twice(today.perHeadAboveMinor, result.perHeadAboveMinor)}
          onInput={(next) => onChange({ ...wanted, perHeadAboveMinor: next })}
        />
      )}
      <Slider
        {...{ label: 'At least', shown: heads(least), value: least, min: 1, max }}
        onInput={(next) => onChange({ ...wanted, least: next, most: Math.max(next, most) })}
      />
      <Slider
        {...{ label: 'At most', shown: heads(most), value: most, min: 1, max }}
        onInput={(next) => onChange({ ...wanted, most: next, least: Math.min(next, least) })}
      />
      <button type="button" class="quiet" onClick={() => onChange(today)}>
        Back to today’s figures
      </button>
    </form>
  );
}
