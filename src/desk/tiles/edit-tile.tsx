import { useEffect, useState } from 'preact/hooks';
import { api } from '../client';
import { useDeed } from '../deed';
import { Fault } from '../entry/field';
import type { Choices, Tile } from './read';
import { TileForm } from './tile-form';

type Props = { tile: Tile; choices: Choices; onDone(said: string): Promise<void>; onLeave(): void };

/** The tile as it was when its form was opened: another's writing since then is not written over. */
export function EditTile({ tile: { id, number }, choices, onDone, onLeave }: Props) {
  const [opened, setOpened] = useState<{ tile: Tile; etag: string } | null>(null);
  const deed = useDeed();
  const params = { path: { tileId: id } };
  useEffect(() => {
    void deed.run('open', async () => {
      const { data, response } = await api.GET('/api/test-tiles/{tileId}', { params });
      if (data) setOpened({ tile: data, etag: response.headers.get('etag') ?? '' });
    });
  }, [id]);
  if (!opened) return deed.because ? <Fault>{deed.because}</Fault> : <p class="quiet">Reading the tile.</p>;
  return (
    <TileForm
      {...{ tile: opened.tile, choices, onLeave }}
      save={(body, headers) =>
        api.PUT('/api/test-tiles/{tileId}', { params, body, headers: { ...headers, 'if-match': opened.etag } })
      }
      onSaved={async () => {
        onLeave();
        await onDone(`Tile ${number} is kept.`);
      }}
    />
  );
}
