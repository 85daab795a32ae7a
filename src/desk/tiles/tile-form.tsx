import { useState } from 'preact/hooks';
import { CONES } from '../../trade/cones.js';
import type { Schemas } from '../client';
import { Fault, Field } from '../entry/field';
import { useDeed } from '../orders/deed';
import type { Choices, Tile } from './read';
import { bodyOf, type LayerLine, starting, WAYS } from './tile-text';

type Body = Schemas['NewTestTile'];
type Props = {
  /** null: a new one */
  tile: Tile | null;
  choices: Choices;
  save(body: Body, headers: { 'idempotency-key': string }): Promise<unknown>;
  onSaved(): Promise<void>;
  onLeave(): void;
};

const NO_COAT = ['clay', 'consumable', 'packaging', 'kilnWash'];

/** What a tile is made of and how it came out, to fill in now or later. */
export function TileForm({ tile, choices: { materials, kilns, schedules }, save, onSaved, onLeave }: Props) {
  const [layers, setLayers] = useState<LayerLine[]>(starting(tile));
  const deed = useDeed();
  const named = (list: readonly { id: string; name: string }[]) =>
    [['', '–'], ...list.map(({ id, name }) => [id, name] as const)] as const;
  const clays = materials.filter(({ kind }) => kind === 'clay');
  const coats = materials.filter(({ kind }) => !NO_COAT.includes(kind));
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    const body = bodyOf(new FormData(event.currentTarget as HTMLFormElement), layers);
    if (await deed.run([tile?.id, body], (headers) => save(body, headers))) await onSaved();
  };
  const firing = tile?.firing;
  return (
    <form class="raised" onSubmit={submit}>
      <div class="pairs">
        <Field label="What do you call it?" name="name" value={tile?.name} />
        <Field
          label="Clay"
          name="bodyId"
          value={tile?.body.id}
          choices={clays.map(({ id, name }) => [id, name] as const)}
        />
      </div>
      <Layers layers={layers} choices={named(coats)} onChange={setLayers} />
      <fieldset>
        <legend>The firing</legend>
        <div class="pairs">
          <Field
            label="Fired on"
            name="firedOn"
            required={false}
            value={firing?.firedOn}
            hint="As 2026-03-12; empty until it was."
          />
          <Field
            label="Cone reached"
            name="cone"
            required={false}
            value={firing?.cone ?? ''}
            choices={[['', '–'], ...CONES.map(({ name }) => [name, name] as const)]}
          />
          <Field label="Kiln" name="kilnId" required={false} value={firing?.kiln?.id} choices={named(kilns)} />
          <Field
            label="Schedule"
            name="scheduleId"
            required={false}
            value={firing?.schedule?.id}
            choices={named(schedules)}
          />
        </div>
      </fieldset>
      <fieldset>
        <legend>How it came out</legend>
        <div class="pairs">
          <Field label="Colour" name="colour" required={false} value={tile?.colour} />
          <Field
            label="Surface"
            name="surface"
            required={false}
            value={tile?.surface}
            hint="Matt, satin, glossy, dry."
          />
          <Field
            label="Did it run?"
            name="run"
            required={false}
            value={tile?.run ?? ''}
            choices={[
              ['', 'not seen yet'],
              ['stayed', 'it stayed'],
              ['moved', 'it moved'],
              ['ranOff', 'it ran off'],
            ]}
          />
          <Field label="Defects" name="defects" required={false} value={tile?.defects} />
          <Field label="Notes" name="notes" required={false} lines value={tile?.notes} />
        </div>
      </fieldset>
      {deed.because && <Fault>{deed.because}</Fault>}
      <p class="acts">
        <button type="submit" aria-disabled={deed.busy}>
          {tile ? 'Keep it' : 'Keep this tile'}
        </button>
        <button type="button" class="quiet" onClick={onLeave}>
          Leave it
        </button>
      </p>
    </form>
  );
}

type LayersProps = {
  layers: LayerLine[];
  choices: readonly (readonly [string, string])[];
  onChange(layers: LayerLine[]): void;
};

function Layers({ layers, choices, onChange }: LayersProps) {
  const set = (i: number, change: Partial<LayerLine>) =>
    onChange(layers.map((layer, at) => (at === i ? { ...layer, ...change } : layer)));
  return (
    <fieldset>
      <legend>Its layers, from the clay upwards</legend>
      {layers.map(({ key, materialId, coats, way }, i) => (
        <div class="layer-line" key={key}>
          <Pick
            label={`Layer ${i + 1}`}
            value={materialId}
            choices={choices}
            onPick={(id) => set(i, { materialId: id })}
          />
          <Pick
            label="Put on"
            value={way}
            choices={WAYS}
            onPick={(chosen) => set(i, { way: chosen as LayerLine['way'] })}
          />
          <label class="field">
            <span>Coats</span>
            <input
              inputMode="numeric"
              autocomplete="off"
              value={coats}
              onInput={({ currentTarget }) => set(i, { coats: currentTarget.value })}
            />
          </label>
          {layers.length > 1 && (
            <button
              type="button"
              class="quiet"
              aria-label={`Leave layer ${i + 1} out`}
              onClick={() => onChange(layers.filter((_, at) => at !== i))}
            >
              Leave out
            </button>
          )}
        </div>
      ))}
      <button type="button" class="quiet" onClick={() => onChange([...layers, ...starting(null)])}>
        Add a layer over it
      </button>
    </fieldset>
  );
}

type PickProps = {
  label: string;
  value: string;
  choices: readonly (readonly [string, string])[];
  onPick(value: string): void;
};

function Pick({ label, value, choices, onPick }: PickProps) {
  return (
    <label class="field">
      <span>{label}</span>
      <select value={value} required onChange={({ currentTarget }) => onPick(currentTarget.value)}>
        {choices.map(([key, called]) => (
          <option key={key} value={key}>
            {called}
          </option>
        ))}
      </select>
    </label>
  );
}
