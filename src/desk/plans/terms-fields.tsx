import type { Draft } from './draft';
import { Chosen, Typed } from './entries';
import { MoreTerms } from './more-terms';
import type { Plan, Workshop } from './read';

type Props = { draft: Draft; workshop: Workshop; set(change: Partial<Draft>): void };

const KINDS: readonly (readonly [Plan['kind'], string])[] = [
  ['course', 'a course: places, one by one'],
  ['private', 'a private session: one group at a price'],
  ['openStudio', 'open studio: benches, by the visit'],
];

export function Beginning({ draft, set }: Omit<Props, 'workshop'>) {
  return (
    <div class="pairs">
      <Typed
        at="#/name"
        label="What do you call it?"
        value={draft.name}
        words
        hint="It stands on receipts too."
        onType={(name) => set({ name })}
      />
      <Chosen
        at="#/kind"
        label="How is it sold?"
        value={draft.kind}
        choices={KINDS}
        onChoose={(kind) => set(kind === 'openStudio' ? { kind, sessions: draft.sessions.slice(0, 1) } : { kind })}
      />
    </div>
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
            <Typed
              at="#/groupOf"
              label="Heads in the group’s price"
              value={draft.groupOf}
              hint="Each above them costs a sum more."
              onType={(groupOf) => set({ groupOf })}
            />
          )}
          <Typed
            at="#/places"
            label={kind === 'openStudio' ? 'Benches' : kind === 'private' ? 'At most, heads' : 'Places'}
            value={draft.places}
            onType={(places) => set({ places })}
          />
          {kind !== 'openStudio' && (
            <Typed
              at="#/minimum"
              label="Held from, students"
              value={draft.minimum}
              hint="With fewer it is called off."
              onType={(minimum) => set({ minimum })}
            />
          )}
        </div>
      </fieldset>
      <fieldset>
        <legend>Your time beside the sessions</legend>
        <div class="figures broad">
          <Typed
            at="#/otherMinutes"
            label="In all, minutes"
            value={draft.otherMinutes}
            hint="Loading and unloading kilns, messages, shopping."
            onType={(otherMinutes) => set({ otherMinutes })}
          />
          <Typed
            at="#/minutesPerStudent"
            label="For each student, minutes"
            value={draft.minutesPerStudent}
            hint="Letters, handing out their work."
            onType={(minutesPerStudent) => set({ minutesPerStudent })}
          />
        </div>
      </fieldset>
      <MoreTerms {...{ draft, workshop, set }} />
    </>
  );
}
