import { useRef, useState } from 'preact/hooks';
import { api, Refused, type Schemas } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import { capital, count } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';

type Work = Schemas['NewCourseHours']['what'];
const WORK = [
  ['teaching', 'teaching'],
  ['preparing', 'preparing'],
  ['clearing', 'clearing'],
  ['kiln', 'loading and unloading'],
  ['messages', 'messages'],
  ['other', 'something else'],
] as const satisfies readonly (readonly [Work, string])[];

type Props = { courseId: string; today: string };
type Faults = Partial<Record<'minutes' | 'what' | 'on' | 'note' | 'whole', string>>;

/** Notes time for a course. A mistake is taken back by minutes below zero, which say why. Nothing typed is lost where it is refused. */
export function NoteHours({ courseId, today }: Props) {
  const form = useRef<HTMLFormElement>(null);
  const [faults, setFaults] = useState<Faults>({});
  const [said, setSaid] = useState('');
  const { run, busy } = useMutation({ thenRead: true });
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    if (!form.current) return;
    const body = typedIn(form.current);
    setSaid('');
    if (!Number.isInteger(body.minutes)) return setFaults({ minutes: 'Write whole minutes, for example 90.' });
    setFaults({});
    const params = { path: { courseId } };
    const isNoted = await run([courseId, body], async (headers) => {
      try {
        await api.POST('/api/courses/{courseId}/hours', { params, body, headers });
      } catch (error) {
        setFaults(faultsFrom(error));
        throw error;
      }
    });
    if (!isNoted) return;
    form.current.reset();
    setSaid(`${capital(count(body.minutes, 'minute'))} noted.`);
  };
  return (
    <details class="noting no-paper">
      <summary>
        <b>Note your time for this course</b>
      </summary>
      <form ref={form} onSubmit={submit} noValidate class="hours">
        <div class="pairs">
          <Field
            label="Minutes"
            name="minutes"
            figures
            fault={faults.minutes}
            hint="Enter a minus figure to correct an earlier entry."
            required
          />
          <Field label="For" name="what" choices={WORK} fault={faults.what} required />
          <Field label="Day" name="on" value={today} fault={faults.on} hint="Year, month, day." required />
          <Field label="Note" name="note" fault={faults.note} />
        </div>
        {faults.whole && <ErrorMessage>{faults.whole}</ErrorMessage>}
        <button type="submit" aria-disabled={busy}>
          Note it
        </button>
        <p role="status" class={said ? 'done' : 'nothing'}>
          {said}
        </p>
      </form>
    </details>
  );
}

function typedIn(form: HTMLFormElement): Schemas['NewCourseHours'] {
  const typed = new FormData(form);
  const of = (name: string) => String(typed.get(name) ?? '').trim();
  const minutes = of('minutes') === '' ? Number.NaN : Number(of('minutes'));
  return { minutes, what: of('what') as Work, on: of('on'), note: of('note') };
}

function faultsFrom(error: unknown): Faults {
  const { message, faults } = error instanceof Refused ? error : { message: (error as Error).message, faults: [] };
  const found: Faults = {};
  for (const { pointer, detail } of faults) {
    const name = pointer.slice(2);
    if (name === 'minutes' || name === 'what' || name === 'on' || name === 'note') found[name] = capital(`${detail}.`);
  }
  return Object.keys(found).length > 0 ? found : { whole: message };
}
