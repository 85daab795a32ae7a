import { useId } from 'preact/hooks';
import type { PriceInputs } from '../../trade/course-price.js';
import { today, type WhatIf } from './what-if';
import type { moneyIn } from './words';

type Money = ReturnType<typeof moneyIn>;
type Props = { inputs: PriceInputs; fairMinor: number; wanted: WhatIf; onChange(next: WhatIf): void; money: Money };

/** Figures to try; the answer follows at once, since the browser reckons by itself. */
export function TryOut({ inputs, fairMinor, wanted, onChange, money }: Props) {
  return (
    <form class="what-if" onSubmit={(event) => event.preventDefault()} aria-label="What if">
      <h2>What if</h2>
      {[...terms(inputs, fairMinor, wanted, money), ...costs(inputs, wanted, money)].map(({ set, ...slider }) => (
        <Slider key={slider.label} {...slider} onInput={(value) => onChange({ ...wanted, ...set(value) })} />
      ))}
      <button type="button" class="quiet" onClick={() => onChange(today(inputs))}>
        Back to today’s figures
      </button>
    </form>
  );
}

type Figure = Omit<SliderProps, 'onInput'> & { set(value: number): Partial<WhatIf> };

/** On what terms the course is offered. */
function terms(inputs: PriceInputs, fairMinor: number, wanted: WhatIf, money: Money): Figure[] {
  const { places, minimum, fillPercent } = wanted;
  const price = wanted.priceMinor ?? fairMinor;
  const step = inputs.priceStepMinor;
  return [
    {
      ...{ label: 'You ask', shown: money(price), value: price, min: step, max: Math.max(price, fairMinor * 2), step },
      set: (priceMinor) => ({ priceMinor }),
    },
    {
      ...{ label: 'Places', shown: String(places), value: places, min: 1, max: Math.max(20, inputs.places) },
      set: (next) => ({ places: next, minimum: Math.min(minimum, next) }),
    },
    {
      ...{ label: 'Held from', shown: `${minimum} students`, value: minimum, min: 1, max: places },
      set: (next) => ({ minimum: next }),
    },
    {
      ...{ label: 'Booked on average', shown: `${fillPercent} % of places`, value: fillPercent, min: 5, max: 95 },
      set: (next) => ({ fillPercent: next }),
    },
  ];
}

const DEAREST_HOUR_MINOR = 6000;

/** What it takes to hold it. */
function costs(inputs: PriceInputs, wanted: WhatIf, money: Money): Figure[] {
  const wage = wanted.wagePerHourMinor;
  const change = (label: string, name: 'clayPercent' | 'glazePercent' | 'firingPercent', max: number): Figure => {
    const value = wanted[name];
    const shown = value === 0 ? 'as today' : `${value > 0 ? '+' : '−'}${Math.abs(value)} %`;
    return { label, shown, value, min: -50, max, step: 5, set: (next) => ({ [name]: next }) };
  };
  const most = Math.max(DEAREST_HOUR_MINOR, inputs.wagePerHourMinor * 2);
  return [
    {
      ...{ label: 'Your hour', shown: money(wage), value: wage, min: 0, max: most, step: 50 },
      set: (wagePerHourMinor) => ({ wagePerHourMinor }),
    },
    change('Clay', 'clayPercent', 100),
    change('Glaze', 'glazePercent', 100),
    change('Firing', 'firingPercent', 200),
  ];
}

type SliderProps = {
  label: string;
  shown: string;
  value: number;
  min: number;
  max: number;
  step?: number;
  onInput(value: number): void;
};

function Slider({ label, shown, value, min, max, step = 1, onInput }: SliderProps) {
  const id = useId();
  return (
    <div class="field">
      <span>
        <label for={id}>{label}</label>
        <output for={id}>{shown}</output>
      </span>
      <input
        {...{ id, min, max, step, value }}
        type="range"
        aria-valuetext={shown}
        onInput={(event) => onInput(Number(event.currentTarget.value))}
      />
    </div>
  );
}
