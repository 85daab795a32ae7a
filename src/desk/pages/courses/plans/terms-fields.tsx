import { Field } from '../../../forms/field';
import { MoreTerms } from './advanced-terms';
import { type Draft, placesIn } from './form-values';
import type { Plan, Workshop } from './queries';
import { named } from './recipe-fields';

type Props = { draft: Draft; workshop: Workshop; set(change: Partial<Draft>): void };

const KINDS: readonly (readonly [Plan['kind'], string])[] = [
  ['course', 'a course: places, one by one'],
  ['private', 'a private session: one group at a price'],
  ['openStudio', 'open studio: benches, by the visit'],
];

export function Beginning({ draft, set }: Omit<Props, 'workshop'>) {
  return (
    <div class="pairs">
      <Field
        at="#/name"
        label="What do you call it?"
        value={draft.name}
        hint="Shown on receipts too."
        onChange={(name) => set({ name })}
      />
      <Field
        at="#/kind"
        label="How is it sold?"
        value={draft.kind}
        choices={KINDS}
        onChange={(kind) => set(kind === 'openStudio' ? { kind, sessions: draft.sessions.slice(0, 1) } : { kind })}
      />
    </div>
  );
}

/** Choosing a room fills in its places; a plan can have fewer. */
function Room({ draft, workshop: { rooms }, set }: Props) {
  const choose = (roomId: string) => {
    const room = rooms.find(({ id }) => id === roomId);
    set({ roomId, ...(room && placesIn(room, draft.minimum)) });
  };
  return (
    <Field
      label="Room"
      hint="Fills in the places."
      value={draft.roomId ?? ''}
      choices={[['', 'Choose a room'], ...named(rooms)]}
      onChange={choose}
    />
  );
}

/** On what terms its places are sold, and the time that it takes beside the sessions. */
export function TermsFields({ draft, workshop, set }: Props) {
  const { kind } = draft;
  return (
    <>
      <fieldset>
        <legend>Places</legend>
        <div class="figures broad">
          {kind === 'private' && (
            <Field
              at="#/groupOf"
              label="People in the group’s price"
              value={draft.groupOf}
              hint="Each above them costs a sum more."
              onChange={(groupOf) => set({ groupOf })}
              figures
            />
          )}
          {draft.roomId !== undefined && workshop.rooms.length > 0 && <Room {...{ draft, workshop, set }} />}
          <Field
            at="#/places"
            label={kind === 'openStudio' ? 'Benches' : kind === 'private' ? 'At most, people' : 'Places'}
            value={draft.places}
            onChange={(places) => set({ places })}
            figures
          />
          {kind !== 'openStudio' && (
            <Field
              at="#/minimum"
              label="Minimum students"
              value={draft.minimum}
              hint="With fewer the course is cancelled."
              onChange={(minimum) => set({ minimum })}
              figures
            />
          )}
        </div>
      </fieldset>
      <fieldset>
        <legend>Your time outside sessions</legend>
        <div class="figures broad">
          <Field
            at="#/otherMinutes"
            label="In all, minutes"
            value={draft.otherMinutes}
            hint="Loading and unloading kilns, messages, shopping."
            onChange={(otherMinutes) => set({ otherMinutes })}
            figures
          />
          <Field
            at="#/minutesPerStudent"
            label="For each student, minutes"
            value={draft.minutesPerStudent}
            hint="Letters, handing out their work."
            onChange={(minutesPerStudent) => set({ minutesPerStudent })}
            figures
          />
        </div>
      </fieldset>
      <MoreTerms {...{ draft, workshop, set }} />
    </>
  );
}
