import './styles/find-box.css';
import * as combobox from '@zag-js/combobox';
import { normalizeProps, useMachine } from '@zag-js/preact';
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { api, signInFirst } from '../api/client';
import type { Formatter } from '../format/formatter';
import { type FoundGroup, type FoundItem, groupsFound, saidOf } from './found-items';

const TYPING_MILLISECONDS = 200;

type Props = { formatter: Formatter; focus: boolean; onGone(): void };

/** Finds people, pieces, courses and papers from anywhere, by keyboard and by touch. */
export function FindBox({ formatter, onGone, focus }: Props) {
  const { route } = useLocation();
  const [typed, setTyped] = useState('');
  const { groups, said, isAsking } = useFound(typed.trim(), formatter);
  const items = groups.flatMap((group) => group.items);
  const collection = combobox.collection<FoundItem>({
    items,
    itemToValue: ({ value }) => value,
    itemToString: ({ label }) => label,
  });
  const go = (to: string | undefined) => {
    if (!to) return;
    setTyped('');
    onGone();
    if (to.startsWith('/api/')) window.open(to, '_blank', 'noopener');
    else route(to);
  };
  const service = useMachine(
    combobox.machine as never,
    {
      id: useId(),
      collection,
      inputValue: typed,
      inputBehavior: 'autohighlight',
      selectionBehavior: 'preserve',
      allowCustomValue: true,
      value: [],
      autoFocus: focus,
      positioning: { placement: 'bottom-start', sameWidth: false, fitViewport: true },
      onInputValueChange: ({ inputValue }: { inputValue: string }) => setTyped(inputValue),
      onValueChange: ({ value }: { value: string[] }) => go(value[0]),
    } as never,
  );
  const box = combobox.connect(service as never, normalizeProps);
  return (
    <div class="find-box" {...(box.getRootProps() as object)}>
      <form
        {...(box.getControlProps() as object)}
        onSubmit={(event) => {
          event.preventDefault();
          go(items[0]?.value);
        }}
      >
        <input
          {...(box.getInputProps() as object)}
          aria-label="Find a person, piece, course or paper"
          aria-labelledby={undefined}
          placeholder="Find"
          maxLength={80}
        />
      </form>
      <div {...(box.getPositionerProps() as object)}>
        <div class="found" hidden={!box.open || typed.trim() === ''}>
          <p role="status" class={said || isAsking ? undefined : 'heard'}>
            {isAsking ? 'Looking…' : said || `${items.length} found`}
          </p>
          <Choices {...{ box, groups }} />
        </div>
      </div>
    </div>
  );
}

type Box = ReturnType<typeof combobox.connect>;

function Choices({ box, groups }: { box: Box; groups: readonly FoundGroup[] }) {
  return (
    <div {...(box.getContentProps() as object)}>
      {groups.map(({ name, items }) => (
        <div key={name} {...(box.getItemGroupProps({ id: name }) as object)}>
          <div class="noun" {...(box.getItemGroupLabelProps({ htmlFor: name }) as object)}>
            {name}
          </div>
          {items.map((item) => (
            <div key={item.value} class="choice" {...(box.getItemProps({ item }) as object)}>
              <b>{item.label}</b> <span>{item.detail}</span>
            </div>
          ))}
        </div>
      ))}
    </div>
  );
}

type Answer = { groups: FoundGroup[]; said: string; isAsking: boolean };

/** Asks once somebody has stopped typing for a moment; an answer that comes late is dropped. */
function useFound(q: string, formatter: Formatter): Answer {
  const [answer, setAnswer] = useState<Answer>({ groups: [], said: '', isAsking: false });
  const last = useRef<AbortController | undefined>(undefined);
  useEffect(() => {
    last.current?.abort();
    if (q === '') return setAnswer({ groups: [], said: '', isAsking: false });
    setAnswer((before) => ({ ...before, isAsking: true }));
    const asked = new AbortController();
    last.current = asked;
    const timer = setTimeout(async () => {
      const next = await ask(q, formatter, asked.signal);
      if (!asked.signal.aborted) setAnswer(next);
    }, TYPING_MILLISECONDS);
    return () => {
      clearTimeout(timer);
      asked.abort();
    };
  }, [q]);
  return answer;
}

async function ask(q: string, formatter: Formatter, signal: AbortSignal): Promise<Answer> {
  try {
    const { data } = await api.GET('/api/search', { params: { query: { q } }, signal });
    const groups = data ? groupsFound(data, q, formatter) : [];
    return { groups, said: data ? saidOf(data, q, groups) : '', isAsking: false };
  } catch (error) {
    if (!signal.aborted) signInFirst(error);
    return { groups: [], said: (error as Error).message, isAsking: false };
  }
}
