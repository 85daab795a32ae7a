import '../../../ui/styles/raised.css';
import './tiles.css';
import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { api, signInFirst } from '../../../api/client';
import { useQuery } from '../../../api/query';
import type { Me } from '../../../api/use-me';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { limitOf } from '../../../forms/limits';
import { type At, Page } from '../../../ui/page';
import { useSettled } from '../../../ui/use-settled';
import { ShelfTabs } from '../shelf-tabs';
import { answerOf } from './labels';
import { type Choices, findTiles, readChoices, type Wanted } from './queries';
import { TileCard } from './tile-card';
import { TileForm } from './tile-form';

/** How did it come out last time? */
export function TilesPage() {
  return (
    <Page question="Test tiles" tabs={(me) => <ShelfTabs me={me} />}>
      {(_, at) => <Tiles {...at} />}
    </Page>
  );
}

const ALL: Wanted = { search: '', bodyId: '', glazeId: '' };

function useTiles(wanted: Wanted) {
  const settled = useSettled(wanted);
  const { search, bodyId, glazeId } = settled;
  const read = useCallback((signal: AbortSignal) => findTiles(settled, signal), [settled]);
  return useQuery({ key: ['tiles', search, bodyId, glazeId], read, keep: true });
}

const NONE: Choices = { materials: [], kilns: [], schedules: [] };

/** The tiles are shown without them, as soon as they are found. */
function useChoices(me: Me) {
  const read = useCallback((signal: AbortSignal) => readChoices(me, signal), [me]);
  return useQuery({ key: ['tile choices'], read });
}

function Tiles({ me, formatter }: At) {
  const { data: choices, error: notChosen } = useChoices(me);
  const [wanted, setWanted] = useState(ALL);
  const { data: found, error: notFound } = useTiles(wanted);
  const error = notFound ?? notChosen;
  const [said, setSaid] = useState('');
  const [adding, setAdding] = useState(false);
  const here = useRef<HTMLParagraphElement>(null);
  useEffect(() => {
    if (said) here.current?.focus();
  }, [said]);
  if (error) signInFirst(error);
  const done = (what: string) => {
    setAdding(false);
    setSaid(what);
  };
  const writes = me.rights.includes('stock:write');
  return (
    <>
      <p class="answer" role="status">
        {found ? answerOf(found.tiles, found.search) : ' '}
      </p>
      {said && (
        <p class="done" role="status" tabIndex={-1} ref={here}>
          {said}
        </p>
      )}
      <Search {...{ wanted }} choices={choices ?? NONE} onWanted={setWanted} />
      {error && <ErrorMessage>{error.message}</ErrorMessage>}
      <ul class="tiles" aria-label="Test tiles">
        {found?.tiles.map((tile) => (
          <TileCard
            key={tile.id}
            {...{ tile, formatter }}
            choices={choices ?? NONE}
            writes={writes && !!choices}
            onDone={done}
          />
        ))}
      </ul>
      {writes && choices && !adding && (
        <button type="button" onClick={() => setAdding(true)}>
          Enter a tile
        </button>
      )}
      {adding && choices && (
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

type SearchProps = { choices: Choices; wanted: Wanted; onWanted(wanted: Wanted): void };

/** Words, and one clay or one glaze among them. */
function Search({ choices: { materials }, wanted, onWanted }: SearchProps) {
  const set = (change: Partial<Wanted>) => onWanted({ ...wanted, ...change });
  const select = (field: 'bodyId' | 'glazeId', label: string, kinds: string[]) => {
    const some = materials.filter(({ kind }) => kinds.includes(kind));
    return (
      <Field
        label={label}
        value={wanted[field]}
        choices={[['', 'any'], ...some.map(({ id, name }) => [id, name] as const)]}
        onChange={(id) => set({ [field]: id })}
      />
    );
  };
  return (
    <search class="pairs looking no-paper">
      <Field
        label="Look for"
        type="search"
        value={wanted.search}
        onChange={(search) => set({ search })}
        maxLength={limitOf('GET /api/test-tiles', '?search').maxLength}
      />
      {select('bodyId', 'On', ['clay'])}
      {select('glazeId', 'With', ['glaze', 'slip', 'underglaze', 'lustre'])}
    </search>
  );
}
