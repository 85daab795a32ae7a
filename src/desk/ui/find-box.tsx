import './styles/find-box.css';
import { useCallback, useEffect, useId, useMemo, useRef, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { api, signInFirst } from '../api/client';
import { useQuery } from '../api/query';
import type { Formatter } from '../format/formatter';
import { SEARCH_MAX } from '../forms/limits';
import { type FoundGroup, type FoundItem, groupsFound, saidOf } from './found-items';
import { useSettled } from './use-settled';

type Props = { formatter: Formatter; focus: boolean; onGone(): void };

/**
 * Finds people, pieces, courses and papers from anywhere, by keyboard and by touch: a combobox as WAI-ARIA describes it. The first
 * that is found is chosen by Enter.
 */
export function FindBox({ formatter, onGone, focus }: Props) {
  const { route } = useLocation();
  const [typed, setTyped] = useState('');
  const [isOpen, setOpen] = useState(false);
  const [at, setAt] = useState(0);
  const input = useRef<HTMLInputElement>(null);
  const id = useId();
  const { groups, said, isAsking } = useFound(typed.trim(), formatter);
  const items = groups.flatMap((group) => group.items);
  const chosen = Math.min(at, items.length - 1);
  const isShown = isOpen && typed.trim() !== '';
  useEffect(() => (focus ? input.current?.focus() : undefined), []);
  useEffect(() => setAt(0), [groups]);
  useEffect(() => document.getElementById(`${id}-${chosen}`)?.scrollIntoView({ block: 'nearest' }), [chosen]);
  const go = (item: FoundItem | undefined) => {
    if (!item || isAsking) return;
    setTyped('');
    setOpen(false);
    onGone();
    if (item.value.startsWith('/api/')) window.open(item.value, '_blank', 'noopener');
    else route(item.value);
  };
  const press = (event: KeyboardEvent) => {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (step && items.length > 0) {
      event.preventDefault();
      setOpen(true);
      setAt((chosen + step + items.length) % items.length);
    }
    if (event.key === 'Escape') setOpen(false);
  };
  return (
    <div class="find-box">
      <form
        onSubmit={(event) => {
          event.preventDefault();
          go(items[chosen]);
        }}
      >
        <input
          ref={input}
          type="text"
          role="combobox"
          aria-label="Find a person, piece, course or paper"
          aria-autocomplete="list"
          aria-expanded={isShown}
          aria-controls={`${id}-found`}
          aria-activedescendant={isShown && items.length > 0 ? `${id}-${chosen}` : undefined}
          placeholder="Find"
          autocomplete="off"
          spellcheck={false}
          maxLength={SEARCH_MAX}
          value={typed}
          onInput={({ currentTarget }) => {
            setTyped(currentTarget.value);
            setOpen(true);
          }}
          onFocus={() => setOpen(true)}
          onBlur={() => setOpen(false)}
          onKeyDown={press}
        />
      </form>
      <div class="found" hidden={!isShown}>
        <Status {...{ said, isAsking }} found={items.length} />
        <Choices id={id} {...{ groups, chosen }} onChoose={go} />
      </div>
    </div>
  );
}

const Status = ({ said, isAsking, found }: Pick<Answer, 'said' | 'isAsking'> & { found: number }) => (
  <p role="status" class={said || isAsking ? undefined : 'heard'}>
    {isAsking ? 'Looking…' : said || `${found} found`}
  </p>
);

type ChoicesProps = { id: string; groups: readonly FoundGroup[]; chosen: number; onChoose(item: FoundItem): void };

function Choices({ id, groups, chosen, onChoose }: ChoicesProps) {
  const items = groups.flatMap((group) => group.items);
  return (
    <div role="listbox" id={`${id}-found`} aria-label="Found">
      {groups.map(({ name, items: own }) => (
        // biome-ignore lint/a11y/useSemanticElements: a fieldset may not be in a listbox
        <div key={name} role="group" aria-label={name}>
          <div class="noun" aria-hidden="true">
            {name}
          </div>
          {own.map((item) => {
            const i = items.indexOf(item);
            return (
              // biome-ignore lint/a11y/useKeyWithClickEvents: by the keyboard it is chosen in the field, which keeps the focus
              <div
                key={item.value}
                id={`${id}-${i}`}
                role="option"
                tabIndex={-1}
                aria-selected={i === chosen}
                class="choice"
                onMouseDown={(event) => event.preventDefault()} // or the field would lose the focus, and the list be gone before the click
                onClick={() => onChoose(item)}
              >
                <b>{item.label}</b> <span>{item.detail}</span>
              </div>
            );
          })}
        </div>
      ))}
    </div>
  );
}

type Answer = { groups: readonly FoundGroup[]; said: string; isAsking: boolean };

const NONE: readonly FoundGroup[] = [];

/** Asks once somebody has stopped typing for a moment; what was found before stays until the answer is there. */
function useFound(typed: string, formatter: Formatter): Answer {
  const q = useSettled(typed);
  const read = useCallback(
    async (signal: AbortSignal) => {
      const { data } = await api.GET('/api/search', { params: { query: { q } }, signal });
      return data && { found: data, q };
    },
    [q],
  );
  const { data, error, waiting } = useQuery({ key: ['find', q], read, enabled: q !== '', keep: true });
  const groups = useMemo(() => (data ? groupsFound(data.found, data.q, formatter) : NONE), [data]);
  if (typed === '') return { groups: NONE, said: '', isAsking: false };
  if (error) signInFirst(error);
  const said = error?.message ?? (data ? saidOf(data.found, data.q, groups) : '');
  return { groups, said, isAsking: typed !== q || (waiting && !error) };
}
