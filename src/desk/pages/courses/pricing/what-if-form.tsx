import { useMemo } from 'preact/hooks';
import { isSharedLoad } from '../../../../trade/pricing/cost-lines.js';
import type { PriceInputs } from '../../../../trade/pricing/course-price.js';
import { Slider, type SliderProps } from '../../../forms/slider';
import type { Words } from './labels';
import { leaves } from './outcome-labels';
import type { Calculation } from './recalculate';
import { finer, today, type WhatIf } from './what-if';

type Props = {
  inputs: PriceInputs;
  /** null where the figures allow no price */
  calculation: Calculation | null;
  wanted: WhatIf;
  onChange(next: WhatIf): void;
  words: Words;
};

/** Figures to try; the answer follows at once, since the browser works it out by itself. */
export function WhatIfForm({ inputs, calculation, wanted, onChange, words }: Props) {
  const fairMinor = calculation?.result.fairPriceMinor ?? wanted.priceMinor ?? inputs.priceStepMinor;
  const outcome = useMemo(() => <Outcome calculation={calculation} words={words} />, [calculation, words]);
  const slider = ({ set, ...figure }: Figure) => (
    <Slider key={figure.label} {...figure} onInput={(value) => onChange({ ...wanted, ...set(value) })} />
  );
  return (
    <form class="what-if" onSubmit={(event) => event.preventDefault()} aria-label="What if">
      <h2>What if</h2>
      {outcome}
      {terms(inputs, fairMinor, wanted, words).map(slider)}
      <details>
        <summary>More figures</summary>
        {[...reductions(wanted), ...costs(inputs, wanted, words)].map(slider)}
      </details>
      <button type="button" class="quiet" onClick={() => onChange(today(inputs))}>
        Back to today’s figures
      </button>
    </form>
  );
}

function Outcome({ calculation, words: { moneyInText: money } }: Pick<Props, 'calculation' | 'words'>) {
  if (!calculation) return <p class="outcome">These figures allow no price.</p>;
  const { result, askedMinor, asked } = calculation;
  const left = leaves(asked.expectedResultMinor, asked.expectedBeforeWageMinor, money);
  return <p class="outcome">{`Fair: ${money(result.fairPriceMinor)}. At ${money(askedMinor)} ${left} on average.`}</p>;
}

type Figure = Omit<SliderProps, 'onInput'> & { set(value: number): Partial<WhatIf> };

/** On what terms the course is offered. */
function terms(inputs: PriceInputs, fairMinor: number, wanted: WhatIf, { money }: Words): Figure[] {
  const { places, minimum, fillPercent } = wanted;
  const price = wanted.priceMinor ?? fairMinor;
  const step = finer(inputs.priceStepMinor);
  return [
    {
      ...{ label: 'You ask', shown: money(price), value: price, min: step, max: Math.max(price, fairMinor * 2), step },
      set: (priceMinor) => ({ priceMinor }),
    },
    {
      ...{ label: 'Places', shown: String(places), value: places, min: 1, max: Math.max(20, inputs.places) },
      set: (next) => ({ places: next, minimum: Math.min(minimum, next) }),
    },
    ...(inputs.minimum === 0
      ? [] // open studio runs with nobody too
      : [
          {
            ...{ label: 'Minimum students', shown: String(minimum) },
            ...{ value: minimum, min: 1, max: places },
            set: (next: number) => ({ minimum: next }),
          },
        ]),
    {
      ...{ label: 'Booked on average', shown: `${fillPercent}% of places`, value: fillPercent, min: 5, max: 95 },
      set: (next) => ({ fillPercent: next }),
    },
  ];
}

/** What is sold below the full price. */
function reductions({ reducedPercent: reduced, reducedToPercent }: WhatIf): Figure[] {
  return [
    {
      ...{ label: 'Places at a reduced price', shown: reduced === 0 ? 'none' : `${reduced}% of places` },
      ...{ value: reduced, min: 0, max: 95, step: 5 },
      set: (next) => ({ reducedPercent: next }),
    },
    {
      ...{ label: 'Reduced to', shown: `${reducedToPercent}% of the full price` },
      ...{ value: reducedToPercent, min: 0, max: 100, step: 5 },
      set: (next) => ({ reducedToPercent: next }),
    },
  ];
}

const DEAREST_HOUR_MINOR = 6000;

/** What it takes to hold it. */
function costs(inputs: PriceInputs, wanted: WhatIf, { money }: Words): Figure[] {
  const wage = wanted.wagePerHourMinor;
  type Name = 'clayPercent' | 'glazePercent' | 'firingPercent' | 'loadPercent';
  const change = (label: string, name: Name, max: number): Figure => {
    const value = wanted[name];
    const shown = value === 0 ? 'as today' : `${value > 0 ? '+' : '−'}${Math.abs(value)}%`;
    return { label, shown, value, min: -50, max, step: 5, set: (next) => ({ [name]: next }) };
  };
  const most = Math.max(DEAREST_HOUR_MINOR, inputs.wagePerHourMinor * 2);
  return [
    {
      ...{ label: 'Your hour', shown: money(wage), value: wage, min: 0, max: most, step: 50 },
      set: (wagePerHourMinor) => ({ wagePerHourMinor }),
    },
    change('Clay costs', 'clayPercent', 100),
    change('Glaze costs', 'glazePercent', 100),
    change('A firing costs', 'firingPercent', 200),
    ...(inputs.lines.some(isSharedLoad) ? [change('Ware in each load', 'loadPercent', 50)] : []),
  ];
}
