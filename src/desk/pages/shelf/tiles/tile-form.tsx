import { useState } from 'preact/hooks';
import type { Schemas } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { Firing, named, Result } from './firing-result-fields';
import { bodyOf, type LayerLine, lacksDay, starting } from './form-values';
import { Layers } from './layers';
import type { Choices, Tile } from './queries';

type Body = Schemas['NewTestTile'];
type Props = {
  /** null: a new one */
  tile: Tile | null;
  choices: Choices;
  save(body: Body, headers: { 'idempotency-key': string }): Promise<unknown>;
  onSaved(): void;
  onLeave(): void;
};

const NO_COAT = ['clay', 'consumable', 'packaging', 'kilnWash'];

/** What a tile is made of and how it came out, to fill in now or later. */
export function TileForm({ tile, choices: { materials, kilns, schedules }, save, onSaved, onLeave }: Props) {
  const [layers, setLayers] = useState<LayerLine[]>(starting(tile));
  const deed = useMutation({ thenRead: true });
  const clays = materials.filter(({ kind }) => kind === 'clay');
  const coats = materials.filter(({ kind }) => !NO_COAT.includes(kind));
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget as HTMLFormElement);
    if (lacksDay(form))
      return deed.refuse('Say on which day it was fired: its cone, kiln and whether it ran go with that.');
    const body = bodyOf(form, layers);
    if (await deed.run([tile?.id, body], (headers) => save(body, headers))) onSaved();
  };
  return (
    <form class="raised" onSubmit={submit}>
      <div class="pairs">
        <Field label="What do you call it?" name="name" value={tile?.name} required />
        <Field
          label="Clay"
          name="bodyId"
          value={tile?.body.id}
          choices={clays.map(({ id, name }) => [id, name] as const)}
          required
        />
      </div>
      <Layers layers={layers} choices={named(coats)} onChange={setLayers} />
      <Firing {...{ tile, kilns, schedules }} />
      <Result tile={tile} />
      {deed.error && <ErrorMessage>{deed.error}</ErrorMessage>}
      <p class="acts">
        <button type="submit" aria-disabled={deed.busy}>
          {tile ? 'Keep it' : 'Keep this tile'}
        </button>
        <button type="button" class="quiet" onClick={onLeave}>
          Cancel
        </button>
      </p>
    </form>
  );
}
