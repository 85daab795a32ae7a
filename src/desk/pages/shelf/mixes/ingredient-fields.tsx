import { CheckboxField } from '../../../forms/checkbox-field';
import { Field } from '../../../forms/field';
import type { Line } from './recipe';

type Choices = readonly (readonly [string, string])[];
type Props = {
  lines: Line[];
  inPercent: boolean;
  choices: Choices;
  onLines(lines: Line[]): void;
  onPercent(inPercent: boolean): void;
};

/** Of what a mix is made: a line for each part. */
export function Parts({ lines, inPercent, choices, onLines, onPercent }: Props) {
  return (
    <fieldset>
      <legend>Materials, by weight</legend>
      {lines.map((line, i) => (
        <Part
          key={line.key}
          {...{ line, i, inPercent, choices }}
          onLine={(changed) => onLines(lines.map((one) => (one === line ? changed : one)))}
          onOut={() => onLines(lines.filter((one) => one !== line))}
        />
      ))}
      <button
        type="button"
        class="quiet"
        onClick={() => onLines([...lines, { key: crypto.randomUUID(), materialId: '', share: '' }])}
      >
        Add a material
      </button>
      <CheckboxField checked={inPercent} onChange={onPercent}>
        These are percentages and must add up to 100
      </CheckboxField>
    </fieldset>
  );
}

type PartProps = Pick<Props, 'inPercent' | 'choices'> & {
  line: Line;
  i: number;
  onLine(line: Line): void;
  onOut(): void;
};

function Part({ line, i, inPercent, choices, onLine, onOut }: PartProps) {
  return (
    <div class="part-line">
      <Field
        label={`Material ${i + 1}`}
        value={line.materialId}
        choices={choices}
        onChange={(materialId) => onLine({ ...line, materialId })}
        required
      />
      <Field
        label={inPercent ? 'Percent' : 'Parts by weight'}
        figures
        required
        pattern="[0-9]{1,7}([.,][0-9]{1,4})?"
        title="A number, for example 12.5"
        value={line.share}
        onChange={(share) => onLine({ ...line, share })}
      />
      <button type="button" class="quiet" aria-label={`Remove material ${i + 1}`} onClick={onOut}>
        Remove
      </button>
    </div>
  );
}
