import { useEffect, useState } from 'preact/hooks';
import { api } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import { ErrorMessage } from '../../../forms/error-message';
import type { Choices, Tile } from './queries';
import { TileForm } from './tile-form';

type Props = { tile: Tile; choices: Choices; onDone(said: string): Promise<void>; onLeave(): void };

/** The tile as it was when its form was opened: another's writing since then is not written over. */
export function EditTile({ tile: { id, number }, choices, onDone, onLeave }: Props) {
  const [opened, setOpened] = useState<{ tile: Tile; etag: string } | null>(null);
  const deed = useMutation();
  const params = { path: { tileId: id } };
  useEffect(() => {
    void deed.run('open', async () => {
      const { data, response } = await api.GET('/api/test-tiles/{tileId}', { params });
      if (data) setOpened({ tile: data, etag: response.headers.get('etag') ?? '' });
    });
  }, [id]);
  if (!opened) return deed.error ? <ErrorMessage>{deed.error}</ErrorMessage> : <p class="quiet">Reading the tile.</p>;
  return (
    <>
      <Photos tile={opened.tile} onDone={onDone} />
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
    </>
  );
}

/** The photos, each of which can be taken away: it may show somebody who does not want to be seen. */
function Photos({ tile: { id, number, photos }, onDone }: Pick<Props, 'tile' | 'onDone'>) {
  const deed = useMutation();
  if (photos.length === 0) return null;
  const remove = async (photoId: string, called: string) => {
    const params = { path: { tileId: id, photoId } };
    const gone = await deed.run(photoId, (headers) =>
      api.POST('/api/test-tiles/{tileId}/photos/{photoId}/removal', { params, headers }),
    );
    if (gone) await onDone(`${called} of tile ${number} is gone.`);
  };
  return (
    <p class="acts">
      {photos.map((photo, i) => (
        <button key={photo.id} type="button" class="quiet" onClick={() => remove(photo.id, `Photo ${i + 1}`)}>
          Take photo {i + 1} away
        </button>
      ))}
      {deed.error && <ErrorMessage>{deed.error}</ErrorMessage>}
    </p>
  );
}
