import { useId } from 'preact/hooks';

export type SliderProps = {
  label: string;
  shown: string;
  value: number;
  min: number;
  max: number;
  step?: number;
  onInput(value: number): void;
};

/** One figure to try, with what it is now. */
export function Slider({ label, shown, value, min, max, step = 1, onInput }: SliderProps) {
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
