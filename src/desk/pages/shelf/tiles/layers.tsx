import { Field } from '../../../forms/field';
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
          <Field
            label={`Layer ${i + 1}`}
            value={materialId}
            choices={choices}
            required
            onChange={(id) => set(i, { materialId: id })}
          />
          <Field label="Put on" value={way} choices={WAYS} required onChange={(way) => set(i, { way })} />
          <Field label="Coats" figures="whole" value={coats} onChange={(coats) => set(i, { coats })} />
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
