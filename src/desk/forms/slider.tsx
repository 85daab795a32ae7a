import { useId, useMemo, useRef } from 'preact/hooks';

export type SliderProps = {
  label: string;
  shown: string;
  value: number;
  min: number;
  max: number;
  step?: number;
  onInput(value: number): void;
};

/** One figure to try, with what it is now. It is drawn anew only when it is another: while one of many is dragged, the others stay. */
export function Slider({ label, shown, value, min, max, step = 1, onInput }: SliderProps) {
  const id = useId();
  const latest = useRef(onInput);
  latest.current = onInput;
  return useMemo(
    () => (
      <div class="field">
        <span>
          <label for={id}>{label}</label>
          <output for={id}>{shown}</output>
        </span>
        <input
          {...{ id, min, max, step, value }}
          type="range"
          aria-valuetext={shown}
          onInput={(event) => latest.current(Number(event.currentTarget.value))}
        />
      </div>
    ),
    [id, label, shown, value, min, max, step],
  );
}
