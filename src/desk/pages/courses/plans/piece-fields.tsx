import { SIZES, type SizeMm, sizeFrom, VESSEL_SHAPES } from '../../../../trade/materials/vessel-shapes.js';
import { Outline } from '../../../charts/pot';
import { pxOf } from '../../../charts/px-scale';
import { Field } from '../../../forms/field';
import type { PieceLine } from './form-values';
import { formCalled, inMm } from './labels';
import type { Workshop } from './queries';

type Props = { at: string; line: PieceLine; workshop: Workshop; change(to: Partial<PieceLine>): void };

const named = (list: readonly { id: string; name: string }[]) => list.map(({ id, name }) => [id, name] as const);

/** One to so many, for all, so that they compare. */
const SKETCH_SCALE = 6;

/** A piece that each student makes: its form and size, its clay, its glaze; drawn as it is typed. */
export function PieceFields({ at, line, workshop, change }: Props) {
  const known = line.size === 'measured' ? measured(line) : sizeFrom(line.form, line.size);
  return (
    <div class="sized">
      <div>
        <Shape {...{ at, line, known, change }} />
        <Ware {...{ at, line, workshop, change }} />
      </div>
      {known && (
        <svg
          class="sketch"
          aria-hidden="true"
          width={pxOf(known.widthMm + 4, SKETCH_SCALE)}
          height={pxOf(known.heightMm + 4, SKETCH_SCALE)}
          viewBox={`${-known.widthMm / 2 - 2} ${-known.heightMm - 2} ${known.widthMm + 4} ${known.heightMm + 4}`}
        >
          <Outline form={line.form} {...known} glazed={line.glazeId !== ''} late={false} />
        </svg>
      )}
    </div>
  );
}

/** What it is and how many; its size by a word, which is an assumption and says so, or as somebody measured it. */
function Shape({ at, line, known, change }: Omit<Props, 'workshop'> & { known: SizeMm | null }) {
  const isMeasured = line.size === 'measured';
  return (
    <div class="figures">
      <Field
        at={`${at}/form`}
        label="Form"
        value={line.form}
        choices={VESSEL_SHAPES.map((form) => [form, formCalled(form)] as const)}
        onChange={(form) => change({ form })}
      />
      <Field
        at={`${at}/comesAs`}
        label="Students"
        value={line.comesAs}
        choices={[
          ['', 'make it'],
          ['bisque', 'get it as bisque'],
          ['fired', 'get it fired'],
        ]}
        onChange={(comesAs) => change({ comesAs })}
      />
      <Field
        at={`${at}/perStudent`}
        label="How many each"
        value={line.perStudent}
        onChange={(perStudent) => change({ perStudent })}
        figures
      />
      <Field
        at={`${at}/size`}
        label="Fired size"
        value={line.size}
        wide
        choices={[...SIZES.map((size) => [size, size] as const), ['measured', 'as I measured it'] as const]}
        hint={!isMeasured && known ? `An assumption: ${inMm(known)}.` : undefined}
        onChange={(size) => change({ size, ...(size === 'measured' && known ? typed(known) : {}) })}
      />
      {isMeasured &&
        SIDES.map(([side, label]) => (
          <Field
            key={side}
            at={`${at}/size/${side}`}
            label={label}
            value={line[side]}
            onChange={(mm) => change({ [side]: mm })}
            figures
          />
        ))}
    </div>
  );
}

const SIDES = [
  ['widthMm', 'Width, mm'],
  ['depthMm', 'Depth, mm'],
  ['heightMm', 'Height, mm'],
] as const;

/** Of what it is made, and what lies on it. */
function Ware({ at, line, workshop: { materials, tiles }, change }: Props) {
  const ofKind = (kind: string) => named(materials.filter((material) => material.kind === kind));
  return (
    <div class="figures">
      {line.comesAs === '' && (
        <>
          <Field
            at={`${at}/clayId`}
            label="Clay"
            value={line.clayId}
            wide
            choices={[['', 'Choose'], ...ofKind('clay')]}
            onChange={(clayId) => change({ clayId })}
          />
          <Field
            at={`${at}/wetMassGrams`}
            label="Wet clay per piece (g)"
            value={line.wetMassGrams}
            onChange={(wetMassGrams) => change({ wetMassGrams })}
            figures
          />
        </>
      )}
      <Field
        at={`${at}/glaze/materialId`}
        label="Glaze"
        value={line.glazeId}
        wide
        choices={[['', 'unglazed'], ...ofKind('glaze')]}
        onChange={(glazeId) => change({ glazeId })}
      />
      {line.glazeId !== '' && (
        <Field
          at={`${at}/glaze/gramsPerDm2`}
          label="Coating, dry g per dm²"
          value={line.gramsPerDm2}
          wide
          hint="All coats. Weigh a tile before and after: published figures spread from 2.6 to 6."
          onChange={(gramsPerDm2) => change({ gramsPerDm2 })}
          figures
        />
      )}
      {tiles.length > 0 && (
        <Field
          at={`${at}/tileId`}
          label="To look like test tile"
          value={line.tileId}
          wide
          choices={[['', 'none'], ...tiles.map(({ id, number, name }) => [id, `${number}, ${name}`] as const)]}
          onChange={(tileId) => change({ tileId })}
        />
      )}
    </div>
  );
}

const typed = ({ widthMm, depthMm, heightMm }: SizeMm) => ({
  ...{ widthMm: `${widthMm}`, depthMm: `${depthMm}`, heightMm: `${heightMm}` },
});

function measured({ widthMm, depthMm, heightMm }: PieceLine): SizeMm | null {
  const sides = [widthMm, depthMm, heightMm].map((side) => (/^\d{1,4}$/.test(side.trim()) ? Number(side) : 0));
  const [width = 0, depth = 0, height = 0] = sides;
  if (sides.some((side) => side < 1 || side > 2000)) return null;
  return { widthMm: width, depthMm: depth, heightMm: height };
}
