import type { Formatter } from '../../../format/formatter';
import { limitOf } from '../../../forms/limits';
import { against, exactly, type Material, WHY } from './labels';

type Props = {
  asked: { counted: number; inBooks: number };
  unit: Material['unit'];
  formatter: Formatter;
  onWhy(explanation: string): void;
};

/** The books say otherwise: why may that be? A word is touched, or written. */
export function Why({ asked, unit, formatter, onWhy }: Props) {
  const { counted, inBooks } = asked;
  const write = (event: SubmitEvent & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const words = String(new FormData(event.currentTarget).get('words') ?? '').trim();
    if (words) onWhy(words);
  };
  return (
    <div class="why no-paper" role="status">
      <p>
        The books say {exactly(inBooks, unit, formatter)}: you counted {against(asked, unit, formatter)}. Count once
        more; if it stays so, why may that be?
      </p>
      <div class="acts">
        {WHY[counted < inBooks ? 'less' : 'more'].map((words) => (
          <button key={words} type="button" onClick={() => onWhy(words)}>
            {words}
          </button>
        ))}
      </div>
      <form onSubmit={write} class="own-words">
        <input
          name="words"
          aria-label="In your own words"
          placeholder="In your own words"
          maxLength={limitOf('NewCountInput', '#/explanation').maxLength}
        />
        <button type="submit">Save with this reason</button>
      </form>
    </div>
  );
}
