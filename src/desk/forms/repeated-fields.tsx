import type { ComponentChildren } from 'preact';
import { useContext, useEffect, useId, useRef, useState } from 'preact/hooks';
import { Faults, idOf } from './field';

type Line = { key: string };
type Props<T extends Line> = {
  /** its name in the API, such as "sessions" */
  list: string;
  legend: string;
  /** what one is called, such as "Session" */
  called: string;
  lines: T[];
  add: { label: string; line(): T };
  most: number;
  /** whether their order says something */
  ordered?: boolean;
  none?: string;
  onLines(lines: T[]): void;
  children(line: T, set: (change: Partial<T>) => void, i: number): ComponentChildren;
};

/** Lines that are added, left out and put in order, by keyboard too: a button that moved its line keeps the focus. */
export function Lines<T extends Line>({ list, legend, called, lines, add, most, ordered, none, ...props }: Props<T>) {
  const { onLines, children } = props;
  const fault = useContext(Faults).get(`#/${list}`);
  const [focus, setFocus] = useState('');
  const name = useId();
  const adding = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (focus) (document.getElementById(focus) ?? adding.current)?.focus();
    setFocus('');
  }, [focus]);
  const buttonOf = (key: string | undefined, by: 1 | -1) => `${name}-${by}-${key}`;
  const move = (i: number, by: 1 | -1) => {
    onLines(moved(lines, i, by));
    setFocus(buttonOf(lines[i]?.key, by)); // a line that is put elsewhere loses it
  };
  const leaveOut = (i: number) => {
    onLines(lines.filter((_, at) => at !== i));
    setFocus('gone'); // and the button that adds one takes it
  };
  return (
    <fieldset id={idOf(`#/${list}`)} tabIndex={-1}>
      <legend>{legend}</legend>
      {fault && <p class="fault">{fault}</p>}
      {lines.length === 0 && none && <p class="quiet">{none}</p>}
      {lines.map((line, i) => (
        <fieldset key={line.key} class="plan-line" aria-label={`${called} ${i + 1}`}>
          {children(line, (change) => onLines(lines.map((one) => (one === line ? { ...one, ...change } : one))), i)}
          <LineActs
            {...{ called: `${called.toLowerCase()} ${i + 1}`, i, ordered: ordered === true, count: lines.length }}
            idOf={(by) => buttonOf(line.key, by)}
            onMove={(by) => move(i, by)}
            onOut={() => leaveOut(i)}
          />
        </fieldset>
      ))}
      {lines.length < most && (
        <button type="button" class="quiet" ref={adding} onClick={() => onLines([...lines, add.line()])}>
          {add.label}
        </button>
      )}
    </fieldset>
  );
}

type ActsProps = {
  called: string;
  i: number;
  count: number;
  ordered: boolean;
  idOf(by: 1 | -1): string;
  onMove(by: 1 | -1): void;
  onOut(): void;
};

function LineActs({ called, i, count, ordered, idOf, onMove, onOut }: ActsProps) {
  const ways = [
    { by: -1, word: 'Up', end: i === 0 },
    { by: 1, word: 'Down', end: i === count - 1 },
  ] as const;
  return (
    <p class="acts">
      {ordered &&
        count > 1 &&
        ways.map(({ by, word, end }) => (
          <button
            key={word}
            type="button"
            class="quiet"
            id={idOf(by)}
            aria-label={`Move ${called} ${word.toLowerCase()}`}
            aria-disabled={end}
            onClick={() => !end && onMove(by)}
          >
            Move {word.toLowerCase()}
          </button>
        ))}
      <button type="button" class="quiet" aria-label={`Remove ${called}`} onClick={onOut}>
        Remove
      </button>
    </p>
  );
}

/** The line one further up or down; the first and the last stay where they are. */
export function moved<T>(lines: readonly T[], from: number, by: 1 | -1): T[] {
  const to = from + by;
  if (to < 0 || to >= lines.length) return [...lines];
  const all = [...lines];
  const [line] = all.splice(from, 1);
  all.splice(to, 0, line as T);
  return all;
}
