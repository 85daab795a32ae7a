import { useId } from 'preact/hooks';
import type { PriceInputs } from '../../trade/course-price.js';
import { today, type WhatIf } from './what-if';
import type { moneyIn } from './words';

type Money = ReturnType<typeof moneyIn>;
type Props = { inputs: PriceInputs; fairMinor: number; wanted: WhatIf; onChange(next: WhatIf): void; money: Money };

/** Figures to try; the answer follows at once, since the browser reckons by itself. */
export function TryOut({ inputs, fairMinor, wanted, onChange, money }: Props) {
  const set = (change: Partial<WhatIf>) => onChange({ ...wanted, ...change });
  const step = inputs.priceStepMinor;
  const change = (value: number) => (value === 0 ? 'as today' : `${value > 0 ? '+' : '−'}${Math.abs(value)} %`);
  const price = wanted.priceMinor ?? fairMinor;
  return (
    <form class="what-if" onSubmit={(event) => event.preventDefault()} aria-label="What if">
      <h2>What if</h2>
      <Slider
        label="You ask"
        shown={money(price)}
        value={price}
        min={step}
        max={Math.max(price, fairMinor * 2)}
        step={step}
        onInput={(priceMinor) => set({ priceMinor })}
      />
      <Slider
        label="Places"
        shown={String(wanted.places)}
        value={wanted.places}
        min={1}
        max={Math.max(20, inputs.places)}
        onInput={(places) => set({ places, minimum: Math.min(wanted.minimum, places) })}
      />
      <Slider
        label="Held from"
        shown={`${wanted.minimum} students`}
        value={wanted.minimum}
        min={1}
        max={wanted.places}
        onInput={(minimum) => set({ minimum })}
      />
      <Slider
        label="Booked on average"
        shown={`${wanted.fillPercent} % of places`}
        value={wanted.fillPercent}
        min={5}
        max={95}
        onInput={(fillPercent) => set({ fillPercent })}
      />
      <Slider
        label="Your hour"
        shown={money(wanted.wagePerHourMinor)}
        value={wanted.wagePerHourMinor}
        min={0}
        max={Math.max(6000, inputs.wagePerHourMinor * 2)}
        step={50}
        onInput={(wagePerHourMinor) => set({ wagePerHourMinor })}
      />
      <Slider
        label="Clay"
        shown={change(wanted.clayPercent)}
        value={wanted.clayPercent}
        min={-50}
        max={100}
        step={5}
        onInput={(clayPercent) => set({ clayPercent })}
      />
      <Slider
        label="Glaze"
        shown={change(wanted.glazePercent)}
        value={wanted.glazePercent}
        min={-50}
        max={100}
        step={5}
        onInput={(glazePercent) => set({ glazePercent })}
      />
      <Slider
        label="Firing"
        shown={change(wanted.firingPercent)}
        value={wanted.firingPercent}
        min={-50}
        max={200}
        step={5}
        onInput={(firingPercent) => set({ firingPercent })}
      />
      <button type="button" class="quiet" onClick={() => onChange(today(inputs))}>
        Back to today’s figures
      </button>
    </form>
  );
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
