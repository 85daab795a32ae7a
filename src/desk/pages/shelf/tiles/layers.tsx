import { type LayerLine, starting, WAYS } from './form-values';

type LayersProps = {
  layers: LayerLine[];
  choices: readonly (readonly [string, string])[];
  onChange(layers: LayerLine[]): void;
};

/** What lies on the clay, in order. */
export function Layers({ layers, choices, onChange }: LayersProps) {
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
              aria-label={`Remove layer ${i + 1}`}
              onClick={() => onChange(layers.filter((_, at) => at !== i))}
            >
              Remove
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
