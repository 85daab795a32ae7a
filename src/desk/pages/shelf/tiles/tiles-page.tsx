import '../../../ui/styles/raised.css';
import './tiles.css';
import { useEffect, useRef, useState } from 'preact/hooks';
import { api, signInFirst } from '../../../api/client';
import { ErrorMessage } from '../../../forms/error-message';
import { type At, Page } from '../../../ui/page';
import { ShelfTabs } from '../shelf-tabs';
import { answerOf } from './labels';
import { findTiles, type Looked, readTiles } from './queries';
import { TileCard } from './tile-card';
import { TileForm } from './tile-form';

/** How did it come out last time? */
export function TilesPage() {
  return (
    <Page question="Test tiles" tabs={(me) => <ShelfTabs me={me} />} read={readTiles}>
      {(looked, at) => (
        <>
          <Tiles looked={looked} {...at} />
        </>
      )}
    </Page>
  );
}

const WAIT_MILLISECONDS = 250; // for the rest of a word

function Tiles({ looked, me, formatter }: At & { looked: Looked }) {
  const { choices } = looked;
  const [wanted, setWanted] = useState({ search: '', bodyId: '', glazeId: '' });
  const [{ tiles, search }, setFound] = useState({ tiles: looked.tiles, search: '' }); // the words go with what they found
  const [error, setError] = useState('');
  const [said, setSaid] = useState('');
  const [adding, setAdding] = useState(false);
  const here = useRef<HTMLParagraphElement>(null);
  useEffect(() => {
    if (said) here.current?.focus();
  }, [said]);
  useEffect(() => {
    let late = false; // the answer to what was asked before must not stand over a newer one
    const find = async () => {
      try {
        const tiles = await findTiles(wanted.search, wanted.bodyId, wanted.glazeId);
        if (late) return;
        setFound({ tiles, search: wanted.search.trim() });
        setError('');
      } catch (error) {
        if (!late && !signInFirst(error)) setError((error as Error).message);
      }
    };
    const timer = setTimeout(find, WAIT_MILLISECONDS);
    return () => {
      late = true;
      clearTimeout(timer);
    };
  }, [wanted, looked]);
  const done = (what: string) => {
    setAdding(false);
    setSaid(what);
  };
  const writes = me.rights.includes('stock:write');
  return (
    <>
      <p class="answer" role="status">
        {answerOf(tiles, search)}
      </p>
      {said && (
        <p class="done" role="status" tabIndex={-1} ref={here}>
          {said}
        </p>
      )}
      <Search {...{ choices, wanted }} onWanted={setWanted} />
      {error && <ErrorMessage>{error}</ErrorMessage>}
      <ul class="tiles" aria-label="Test tiles">
        {tiles.map((tile) => (
          <TileCard key={tile.id} {...{ tile, choices, formatter, writes }} onDone={done} />
        ))}
      </ul>
      {writes && !adding && (
        <button type="button" onClick={() => setAdding(true)}>
          Enter a tile
        </button>
      )}
      {adding && (
        <TileForm
          {...{ tile: null, choices }}
          save={(body, headers) => api.POST('/api/test-tiles', { body, headers })}
          onSaved={() => done('The tile is kept. Scratch its number into its back.')}
          onLeave={() => setAdding(false)}
        />
      )}
    </>
  );
}

type Wanted = { search: string; bodyId: string; glazeId: string };
type SearchProps = { choices: Looked['choices']; wanted: Wanted; onWanted(wanted: Wanted): void };

/** Words, and one clay or one glaze among them. */
function Search({ choices: { materials }, wanted, onWanted }: SearchProps) {
  const set = (change: Partial<Wanted>) => onWanted({ ...wanted, ...change });
  const select = (field: 'bodyId' | 'glazeId', label: string, kinds: string[]) => (
    <label class="field">
      <span>{label}</span>
      <select value={wanted[field]} onChange={({ currentTarget }) => set({ [field]: currentTarget.value })}>
        <option value="">any</option>
        {materials
          .filter(({ kind }) => kinds.includes(kind))
          .map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
      </select>
    </label>
  );
  return (
    <search class="pairs looking no-paper">
      <label class="field">
        <span>Look for</span>
        <input
          type="search"
          autocomplete="off"
          value={wanted.search}
          onInput={({ currentTarget }) => set({ search: currentTarget.value })}
        />
      </label>
      {select('bodyId', 'On', ['clay'])}
      {select('glazeId', 'With', ['glaze', 'slip', 'underglaze', 'lustre'])}
    </search>
  );
}
