import { CONES } from '../../../../trade/firing/cones.js';
import { Field } from '../../../forms/field';
import type { Choices, Tile } from './queries';

type Props = { tile: Tile | null } & Pick<Choices, 'kilns' | 'schedules'>;

/** Things to choose one from, or none. */
export const named = (list: readonly { id: string; name: string }[]) =>
  [['', '–'], ...list.map(({ id, name }) => [id, name] as const)] as const;

/** When and how a tile was fired; all of it may come later. */
export function Firing({ tile, kilns, schedules }: Props) {
  const firing = tile?.firing;
  const cones = [['', '–'], ...CONES.map(({ name }) => [name, name] as const)] as const;
  return (
    <fieldset>
      <legend>The firing</legend>
      <div class="pairs">
        <Field label="Fired on" name="firedOn" type="date" value={firing?.firedOn} />
        <Field label="Cone reached" name="cone" value={firing?.cone ?? ''} choices={cones} />
        <Field label="Kiln" name="kilnId" value={firing?.kiln?.id} choices={named(kilns)} />
        <Field label="Schedule" name="scheduleId" value={firing?.schedule?.id} choices={named(schedules)} />
      </div>
    </fieldset>
  );
}

const RUNS = [
  ['', 'not seen yet'],
  ['stayed', 'it stayed'],
  ['moved', 'it moved'],
  ['ranOff', 'it ran off'],
] as const;

/** How a tile came out, in one's own words. */
export function Result({ tile }: Pick<Props, 'tile'>) {
  return (
    <fieldset>
      <legend>How it came out</legend>
      <div class="pairs">
        <Field label="Colour" name="colour" value={tile?.colour} />
        <Field label="Surface" name="surface" value={tile?.surface} hint="Matt, satin, glossy, dry." />
        <Field label="Did it run?" name="run" value={tile?.run ?? ''} choices={RUNS} />
        <Field label="Defects" name="defects" value={tile?.defects} />
        <Field label="Notes" name="notes" lines value={tile?.notes} />
      </div>
    </fieldset>
  );
}
