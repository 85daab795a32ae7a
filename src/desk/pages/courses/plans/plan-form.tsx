import { useEffect, useMemo, useState } from 'preact/hooks';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { Faults } from '../../../forms/field';
import { FormErrors } from '../../../forms/form-errors';
import type { FieldFault } from '../../../forms/parse';
import { follows } from './derived-requirements';
import { faultsIn, placeOf } from './field-labels';
import type { Draft } from './form-values';
import type { Plan, PlanBody, Workshop } from './queries';
import { RecipeFields } from './recipe-fields';
import { bodyOf } from './request-body';
import { Beginning, TermsFields } from './terms-fields';

type Headers = { 'idempotency-key': string };
type Props = {
  /** as it was opened, or as somebody left it unsent */
  start: Draft;
  workshop: Workshop;
  formatter: Formatter;
  verb: string;
  /** what besides must be the same for a second try to be the same wish: the state of the plan that is changed */
  over: string;
  /** what came in the way that is no fault of a field, said by whoever knows it better than the API */
  inTheWay?: preact.ComponentChildren;
  onTyped(draft: Draft): void;
  save(body: PlanBody, headers: Headers): Promise<Plan>;
  onSaved(plan: Plan): void;
  onLeave(): void;
};

/** A plan to fill in: the recipe first, the terms after it; what follows from it stands beside while it is written. */
export function PlanForm({ start, workshop, formatter, verb, over, inTheWay, ...does }: Props) {
  const [draft, setDraft] = useState(start);
  const [faults, setFaults] = useState<FieldFault[]>([]);
  const deed = useMutation({ thenRead: true });
  const sent = useMemo(() => bodyOf(draft, workshop), [draft, workshop]);
  useEffect(() => does.onTyped(draft), [draft]);
  const set = (change: Partial<Draft>) => setDraft((before) => ({ ...before, ...change }));
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    setFaults(sent.faults);
    if (sent.faults.length > 0) return deed.refuse('Nothing was sent yet.');
    let saved: Plan | null = null;
    const done = await deed.run([over, sent.body], async (headers) => {
      try {
        saved = await does.save(sent.body, headers);
      } catch (error) {
        setFaults(faultsIn(error));
        throw error;
      }
    });
    if (done && saved) does.onSaved(saved);
  };
  return (
    <Faults.Provider value={new Map(faults.map(({ pointer, detail }) => [pointer, detail]))}>
      <form class="planning" onSubmit={submit} noValidate>
        <div class="recipe">
          <Beginning {...{ draft, set }} />
          <RecipeFields {...{ draft, workshop, set }} />
        </div>
        <aside class="follows">
          <h2>What this needs</h2>
          <ul>
            {follows(sent, workshop, formatter).map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </aside>
        <div class="terms">
          <TermsFields {...{ draft, workshop, set }} />
          {inTheWay ?? (deed.error && <FormErrors error={deed.error} faults={faults} labelOf={placeOf} />)}
          <p class="acts">
            <button type="submit" aria-disabled={deed.busy}>
              {verb}
            </button>
            <button type="button" class="quiet" onClick={does.onLeave}>
              Cancel
            </button>
          </p>
        </div>
      </form>
    </Faults.Provider>
  );
}
