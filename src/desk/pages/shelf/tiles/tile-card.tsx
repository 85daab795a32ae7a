import { useState } from 'preact/hooks';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { PictureInput } from '../../../forms/picture-input';
import { EditTile } from './edit-tile';
import { Chip } from './glaze-swatch';
import { foodOf, layersOf, resultOf } from './labels';
import { type Choices, sendPhoto, type Tile } from './queries';

type Props = {
  tile: Tile;
  choices: Choices;
  formatter: Formatter;
  writes: boolean;
  onDone(said: string): void;
};

/** A tile: its photo, what it is made of, and how it came out. */
export function TileCard({ tile, choices, formatter, writes, onDone }: Props) {
  const [editing, setEditing] = useState(false);
  const { number, name, body, notes, photos } = tile;
  const latest = photos.at(-1);
  return (
    <li class={editing ? 'tile open' : 'tile'}>
      {latest ? (
        <img src={`/api/test-tiles/${tile.id}/photos/${latest.id}`} alt={`Tile ${number}, ${name}`} loading="lazy" />
      ) : (
        <Chip tile={tile} />
      )}
      <h2>
        {name} <span>{number}</span>
      </h2>
      <p>
        {layersOf(tile)}, on {body.name}.
      </p>
      <p>{resultOf(tile, formatter)}</p>
      {notes && <p>{notes}</p>}
      <p class="quiet">{foodOf(tile, formatter)}</p>
      <Earlier tile={tile} />
      {writes && <AddPhoto tile={tile} onDone={onDone} />}
      {writes &&
        (editing ? (
          <EditTile {...{ tile, choices, onDone }} onLeave={() => setEditing(false)} />
        ) : (
          <button type="button" class="quiet" onClick={() => setEditing(true)}>
            Write on tile {number}
          </button>
        ))}
    </li>
  );
}

/** The photos before the latest, which stands above. */
function Earlier({ tile: { id, number, photos } }: Pick<Props, 'tile'>) {
  if (photos.length < 2) return null;
  return (
    <p class="acts no-paper">
      {photos.slice(0, -1).map((photo, i) => (
        <a key={photo.id} href={`/api/test-tiles/${id}/photos/${photo.id}`} target="_blank" rel="noopener">
          Photo {i + 1} <span class="heard">of tile {number}</span>
        </a>
      ))}
    </p>
  );
}

/** A photo from the phone's camera or its album. */
function AddPhoto({ tile: { id, number }, onDone }: Pick<Props, 'tile' | 'onDone'>) {
  const deed = useMutation({ thenRead: true });
  const send = async (photo: File) => {
    const wish = [id, photo.name, photo.size, photo.lastModified];
    const sent = await deed.run(wish, (headers) => sendPhoto(id, photo, headers));
    if (sent) onDone(`Tile ${number} has a new photo.`);
  };
  return (
    <>
      <PictureInput
        label="Add a photo"
        busy={deed.busy}
        heard={` of tile ${number}`}
        accept="image/jpeg,image/png,image/webp"
        onPick={send}
      />
      {deed.error && <ErrorMessage>{deed.error}</ErrorMessage>}
    </>
  );
}
