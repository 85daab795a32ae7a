import { useCallback, useState } from 'preact/hooks';
import { parseQuantity } from '../../../../trade/text/parse-input.js';
import { fetchAllPages } from '../../../api/all-pages';
import { api, type Schemas } from '../../../api/client';
import { useQuery } from '../../../api/query';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { limitOf } from '../../../forms/limits';
import { DialogButton } from '../../../ui/dialog';
import type { Course } from '../labels';
import { timesOf, type Use } from './labels';

type Material = Pick<Schemas['StockedMaterial'], 'id' | 'name' | 'unit'>;
type Props = { course: Course; formatter: Formatter };

/** Takes from the shelf what was weighed out for a course. */
export function WeighOut({ course, ...props }: Props & { today: string }) {
  return (
    <DialogButton label="Weigh out material" title={`Weighed out for ${course.title}`}>
      {(close) => <WeighingOut {...{ course, ...props }} onClose={close} />}
    </DialogButton>
  );
}

function WeighingOut({ course, today, formatter, onClose }: Props & { today: string; onClose(): void }) {
  const materials = useMaterials();
  const [sessionId, setSessionId] = useState(() => latestSession(course, today, formatter));
  const send = async (body: Wish, headers: Headers) => {
    const wish = { ...body, ...(sessionId && { sessionId }) };
    const { data } = await api.POST('/api/courses/{courseId}/draws', { params: at(course), body: wish, headers });
    return data?.foundQuantity ?? 0;
  };
  return (
    <Quantities
      {...{ materials, formatter, send, onClose }}
      save="Take it from the shelf"
      said="weighed out"
      schema="NewCourseDrawInput"
    >
      <Field
        label="At which session"
        choices={[
          ['', 'None of them'],
          ...course.sessions.map((session) => [session.id, timesOf(session, formatter)] as const),
        ]}
        value={sessionId}
        onChange={setSessionId}
      />
    </Quantities>
  );
}

/** The latest session up to today, as a rule the one for which somebody weighs. */
const latestSession = ({ sessions }: Course, today: string, { dayOf }: Formatter): string =>
  sessions.filter(({ startsAt }) => dayOf(startsAt) <= today).at(-1)?.id ?? '';

/** Puts on the shelf again what came back of a course and was worked up. */
export function NoteReclaim({ course, uses, formatter }: Props & { uses: readonly Use[] }) {
  const materials = uses
    .filter(({ unit }) => unit !== 'piece')
    .map(({ materialId: id, materialName: name, unit }) => ({ id, name, unit }));
  const send = async (body: Wish, headers: Headers) => {
    await api.POST('/api/courses/{courseId}/reclaims', { params: at(course), body, headers });
    return 0;
  };
  return (
    <DialogButton label="Note reclaim" title={`Came back of ${course.title}`}>
      {(close) => (
        <Quantities
          {...{ materials, formatter, send }}
          save="Put it on the shelf"
          said="put on the shelf again"
          schema="NewCourseReclaimInput"
          onClose={close}
        >
          <p class="caution">Keep scraps wet: dry clay dust is harmful to breathe.</p>
        </Quantities>
      )}
    </DialogButton>
  );
}

const at = ({ id }: Course) => ({ path: { courseId: id } });

type Headers = { 'idempotency-key': string };
type Wish = { materialId: string; quantity: number; note?: string };
type QuantitiesProps = {
  materials: readonly Material[];
  formatter: Formatter;
  /** @returns how much of it was not on the shelf by the books */
  send(wish: Wish, headers: Headers): Promise<number>;
  save: string;
  said: string;
  schema: 'NewCourseDrawInput' | 'NewCourseReclaimInput';
  onClose(): void;
  children: preact.ComponentChildren;
};

const NOTHING = { materialId: '', quantity: '', note: '' };

/** A material, how much of it, and a note; several one after another. */
function Quantities({ materials, formatter, send, save, said, schema, onClose, children }: QuantitiesProps) {
  const [typed, setTyped] = useState(NOTHING);
  const [faults, setFaults] = useState<{ materialId?: string; quantity?: string }>({});
  const [done, setDone] = useState('');
  const mutation = useMutation();
  const material = materials.find(({ id }) => id === typed.materialId);
  const change = (next: Partial<typeof NOTHING>) => setTyped({ ...typed, ...next });
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    if (!material) return setFaults({ materialId: 'Choose what it is.' });
    let quantity: number;
    try {
      quantity = parseQuantity(typed.quantity, material.unit);
    } catch (error) {
      return setFaults({ quantity: (error as Error).message });
    }
    setFaults({});
    const wish = { materialId: material.id, quantity, ...(typed.note.trim() && { note: typed.note.trim() }) };
    let found = 0;
    const isSent = await mutation.run(wish, async (headers) => {
      found = await send(wish, headers);
    });
    if (!isSent) return;
    setTyped(NOTHING);
    const amount = (units: number) => formatQuantity(units, material.unit, formatter);
    const missing = found > 0 ? ` ${amount(found)} of it was not on the shelf by the books: count it.` : '';
    setDone(`${amount(quantity)} of ${material.name} ${said}.${missing}`);
  };
  return (
    <form onSubmit={submit} noValidate>
      <div class="pairs">
        <Field
          label="What"
          choices={[['', 'Choose'], ...materials.map(({ id, name }) => [id, name] as const)]}
          value={typed.materialId}
          fault={faults.materialId}
          onChange={(materialId) => change({ materialId })}
        />
        <Field
          label="How much"
          hint="For example 2.5 kg or 350 ml"
          value={typed.quantity}
          fault={faults.quantity}
          onChange={(quantity) => change({ quantity })}
        />
        <Field
          label="Note"
          value={typed.note}
          maxLength={limitOf(schema, '#/note').maxLength}
          onChange={(note) => change({ note })}
        />
      </div>
      {children}
      <p role="status" class="celadon">
        {done}
      </p>
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
      <p class="acts">
        <button type="submit" aria-disabled={mutation.busy}>
          {save}
        </button>
        <button type="button" class="quiet" onClick={onClose}>
          Close
        </button>
      </p>
    </form>
  );
}

function useMaterials(): readonly Material[] {
  const read = useCallback(
    () => fetchAllPages('what is on the shelf', (query) => api.GET('/api/materials', { params: { query } })),
    [],
  );
  return useQuery({ key: ['materials to weigh'], read }).data ?? [];
}
