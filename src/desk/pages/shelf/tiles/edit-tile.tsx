import { useCallback, useRef } from 'preact/hooks';
import { api } from '../../../api/client';
import { useQuery } from '../../../api/query';
import { useMutation } from '../../../api/use-mutation';
import { ErrorMessage } from '../../../forms/error-message';
import type { Choices, Tile } from './queries';
import { TileForm } from './tile-form';

type Props = { tile: Tile; choices: Choices; onDone(said: string): void; onLeave(): void };

/** The tile as it was when its form was opened: another's writing since then is not written over. */
export function EditTile({ tile: { id, number }, choices, onDone, onLeave }: Props) {
  const read = useCallback(() => openTile(id), [id]);
  const { data: now, error } = useQuery({ key: ['tile', id], read, fresh: true });
  const first = useRef(now);
  first.current ??= now;
  const opened = first.current;
  const params = { path: { tileId: id } };
  if (!opened || !now)
    return error ? <ErrorMessage>{error.message}</ErrorMessage> : <p class="quiet">Reading the tile.</p>;
  const etag = alikeButPhotos(opened.tile, now.tile) ? now.etag : opened.etag;
  return (
    <>
      <Photos tile={now.tile} onDone={onDone} />
      <TileForm
        {...{ tile: opened.tile, choices, onLeave }}
        save={(body, headers) =>
          api.PUT('/api/test-tiles/{tileId}', { params, body, headers: { ...headers, 'if-match': etag } })
        }
        onSaved={() => {
          onLeave();
          onDone(`Tile ${number} is kept.`);
        }}
      />
    </>
  );
}

async function openTile(tileId: string): Promise<{ tile: Tile; etag: string }> {
  const { data, response } = await api.GET('/api/test-tiles/{tileId}', { params: { path: { tileId } } });
  if (!data) throw new Error('The tile could not be loaded. Load the page again.');
  return { tile: data, etag: response.headers.get('etag') ?? '' };
}

/** A photo that came or went since the form was opened is nothing that the form would write over. */
const alikeButPhotos = (one: Tile, other: Tile) =>
  JSON.stringify({ ...one, photos: [] }) === JSON.stringify({ ...other, photos: [] });

/** The photos, each of which can be taken away: it may show somebody who does not want to be seen. */
function Photos({ tile: { id, number, photos }, onDone }: Pick<Props, 'tile' | 'onDone'>) {
  const deed = useMutation({ thenRead: true });
  if (photos.length === 0) return null;
  const remove = async (photoId: string, called: string) => {
    const params = { path: { tileId: id, photoId } };
    const gone = await deed.run(photoId, (headers) =>
      api.POST('/api/test-tiles/{tileId}/photos/{photoId}/removal', { params, headers }),
    );
    if (gone) onDone(`${called} of tile ${number} is gone.`);
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
