import { Field } from '../../../forms/field';
import { Lines } from '../../../forms/repeated-fields';
import { PURPOSES } from '../labels';
import {
  type Draft,
  type FiringLine,
  keyed,
  type OtherLine,
  pieceLine,
  type SessionLine,
  sessionLine,
} from './form-values';

import { PieceFields } from './piece-fields';
import type { Workshop } from './queries';

type Props = { draft: Draft; workshop: Workshop; set(change: Partial<Draft>): void };

export const named = (list: readonly { id: string; name: string }[]) => list.map(({ id, name }) => [id, name] as const);
const TO_CHOOSE = ['', 'Choose'] as const;

/** What is made in which sessions, of what, and through which firings it goes. */
export function RecipeFields({ draft, workshop, set }: Props) {
  return (
    <>
      <Sessions {...{ draft, set }} />
      <Lines
        list="pieces"
        legend="What each student makes or decorates"
        called="Piece"
        lines={draft.pieces}
        add={{ label: 'Add a piece', line: () => pieceLine(workshop.materials) }}
        most={50}
        none="Nothing that anybody keeps."
        onLines={(pieces) => set({ pieces })}
      >
        {(line, change, i) => <PieceFields {...{ line, change, workshop }} at={`#/pieces/${i}`} />}
      </Lines>
      <Others {...{ draft, workshop, set }} />
      <Firings {...{ draft, workshop, set }} />
    </>
  );
}

function Sessions({ draft, set }: Omit<Props, 'workshop'>) {
  return (
    <Lines<SessionLine>
      list="sessions"
      legend="Sessions, in their order"
      called="Session"
      lines={draft.sessions}
      add={{ label: 'Add a session', line: () => sessionLine(draft.sessions.at(-1)?.purpose ?? 'making') }}
      most={draft.kind === 'openStudio' ? 1 : 60}
      ordered
      onLines={(sessions) => set({ sessions })}
    >
      {(line, change, i) => (
        <div class="figures">
          <Field
            at={`#/sessions/${i}/purpose`}
            label={`Session ${i + 1} is for`}
            value={line.purpose}
            choices={PURPOSES}
            onChange={(purpose) => change({ purpose })}
          />
          <Field
            at={`#/sessions/${i}/minutes`}
            label="Minutes"
            value={line.minutes}
            onChange={(minutes) => change({ minutes })}
            figures
          />
          <Field
            at={`#/sessions/${i}/prepareMinutes`}
            label="To prepare, min"
            value={line.prepareMinutes}
            onChange={(prepareMinutes) => change({ prepareMinutes })}
            figures
          />
          <Field
            at={`#/sessions/${i}/clearMinutes`}
            label="To clear up, min"
            value={line.clearMinutes}
            onChange={(clearMinutes) => change({ clearMinutes })}
            figures
          />
        </div>
      )}
    </Lines>
  );
}

function Others({ draft, workshop: { materials }, set }: Props) {
  const others = materials.filter(({ kind }) => kind !== 'clay');
  const unitOf = (id: string) => materials.find((material) => material.id === id)?.unit ?? 'g';
  const inUnit = { g: 'g or kg', ml: 'ml or l', piece: 'pieces' } as const;
  return (
    <Lines<OtherLine>
      list="materials"
      legend="What else each student uses"
      called="Material"
      lines={draft.materials}
      add={{ label: 'Add slip, stain, packaging or the like', line: () => keyed({ materialId: '', perStudent: '' }) }}
      most={50}
      onLines={(lines) => set({ materials: lines })}
    >
      {(line, change, i) => (
        <div class="figures">
          <Field
            at={`#/materials/${i}/materialId`}
            label="Material"
            wide
            value={line.materialId}
            choices={[TO_CHOOSE, ...named(others)]}
            onChange={(materialId) => change({ materialId })}
          />
          <Field
            at={`#/materials/${i}/perStudent`}
            label={`Each uses, ${inUnit[unitOf(line.materialId)]}`}
            value={line.perStudent}
            onChange={(perStudent) => change({ perStudent })}
            figures
          />
        </div>
      )}
    </Lines>
  );
}

function Firings({ draft, workshop: { kilns, schedules }, set }: Props) {
  return (
    <>
      <Lines<FiringLine>
        list="firings"
        legend="What it goes through, in order"
        called="Firing"
        lines={draft.firings}
        add={{
          label: 'Add a firing',
          line: () => keyed({ kilnId: kilns[0]?.id ?? '', scheduleId: '' }),
        }}
        most={20}
        ordered
        none="Nothing is fired."
        onLines={(firings) => set({ firings })}
      >
        {(line, change, i) => (
          <div class="figures">
            <Field
              at={`#/firings/${i}/scheduleId`}
              label={`Firing ${i + 1}, schedule`}
              wide
              value={line.scheduleId}
              choices={[TO_CHOOSE, ...schedules.map(({ id, name, kind }) => [id, `${name} (${kind})`] as const)]}
              onChange={(scheduleId) => change({ scheduleId })}
            />
            <Field
              at={`#/firings/${i}/kilnId`}
              label="Kiln"
              wide
              value={line.kilnId}
              choices={[TO_CHOOSE, ...named(kilns)]}
              onChange={(kilnId) => change({ kilnId })}
            />
          </div>
        )}
      </Lines>
      {draft.firings.length > 0 && (
        <div class="figures broad">
          <Field
            at="#/broughtLitres"
            label="Each also brings, litres"
            value={draft.broughtLitres}
            hint="Kiln room for ware from elsewhere; empty: none."
            onChange={(broughtLitres) => set({ broughtLitres })}
            figures
          />
          <Field
            at="#/dryingDays"
            label="Drying time before bisque (days)"
            value={draft.dryingDays}
            hint="A week for walls of 6 to 8 mm is common practice; damp ware bursts in the kiln."
            onChange={(dryingDays) => set({ dryingDays })}
            figures
          />
        </div>
      )}
    </>
  );
}
