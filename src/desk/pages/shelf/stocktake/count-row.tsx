import { useState } from 'preact/hooks';
import { parseQuantity } from '../../../../trade/text/parse-input.js';
import { api, Refused } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { Why } from './difference-reason';
import { against, exactly, type Material, unitsOf } from './labels';
import type { Done } from './unsaved-counts';

type Props = {
  material: Material;
  done: Done | undefined;
  typed: string;
  formatter: Formatter;
  onTyped(text: string): void;
  onDone(count: Done): void;
};

/** One material: a figure is typed and entered; where the books say otherwise, it is asked why. */
export function Row({ material, done, typed, formatter, onTyped, onDone }: Props) {
  const { name, unit } = material;
  const [again, setAgain] = useState(false);
  const { asked, error, busy, enter, submit } = useEntering(material, (count) => {
    setAgain(false);
    onDone(count);
  });
  const entered = done && !again;
  return (
    <li>
      <h3>{name}</h3>
      {entered && (
        <p class="plain no-paper">
          <span class={done.counted === done.inBooks ? 'celadon' : 'amber'}>
            {exactly(done.counted, unit, formatter)}, {against(done, unit, formatter)}
          </span>{' '}
          <button type="button" class="quiet" onClick={() => setAgain(true)}>
            Count {name} again
          </button>
        </p>
      )}
      {!entered && (
        <form onSubmit={submit} noValidate class="entering">
          <Figure material={material} typed={typed} onTyped={onTyped} />
          <button type="submit" aria-disabled={busy}>
            Enter
          </button>
        </form>
      )}
      {error && (
        <p class="fault" role="alert">
          {error}
        </p>
      )}
      {asked && !entered && (
        <Why
          asked={asked}
          unit={unit}
          formatter={formatter}
          onWhy={(explanation) => enter(asked.counted, explanation)}
        />
      )}
      <p class="plain by-hand" aria-hidden="true">
        {unitsOf(material)[0]}
      </p>
    </li>
  );
}

/** Sends a count. Where the books say otherwise it is kept only with its reason, and what the books say is told. */
function useEntering({ id, unit }: Material, onDone: Props['onDone']) {
  const [asked, setAsked] = useState<{ counted: number; inBooks: number } | null>(null);
  const { run, busy, error, refuse } = useMutation();
  const enter = async (counted: number, explanation: string | null) => {
    const body = { counted, explanation };
    const params = { path: { materialId: id } };
    await run([id, body], async (headers) => {
      try {
        const { data } = await api.POST('/api/materials/{materialId}/counts', { params, body, headers });
        setAsked(null);
        if (data) onDone(data);
      } catch (error) {
        const why = error instanceof Refused && error.faults.some(({ pointer }) => pointer === '#/explanation');
        const books = why ? await api.GET('/api/materials/{materialId}', { params }).catch(() => null) : null;
        if (!books?.data) throw unreached(error);
        setAsked({ counted, inBooks: books.data.onHand });
        throw new Error(''); // the question that is now shown says all
      }
    });
  };
  const submit = (event: SubmitEvent & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const { figure, in: chosen } = Object.fromEntries(new FormData(event.currentTarget));
    try {
      void enter(parseQuantity(`${figure} ${chosen}`, unit), null);
    } catch (error) {
      refuse((error as Error).message);
    }
  };
  return { asked, error, busy, enter, submit };
}

function Figure({ material, typed, onTyped }: Pick<Props, 'material' | 'typed' | 'onTyped'>) {
  const [first = '', ...others] = unitsOf(material);
  return (
    <>
      <input
        name="figure"
        aria-label={`How much ${material.name} there is`}
        inputMode="decimal"
        autocomplete="off"
        value={typed}
        onInput={(event) => onTyped(event.currentTarget.value)}
      />
      {others.length > 0 ? (
        <select name="in" aria-label={`Unit of ${material.name}`}>
          {[first, ...others].map((unit) => (
            <option key={unit}>{unit}</option>
          ))}
        </select>
      ) : (
        <>
          <input type="hidden" name="in" value={first} />
          <span>{first}</span>
        </>
      )}
    </>
  );
}

/** Where the server can't be reached, a count is not lost: that is what somebody in the store room wants to know. */
const unreached = (error: unknown) =>
  error instanceof Refused && error.type === 'unreachable'
    ? new Error(
        'The server can’t be reached, so this count is not kept there yet. It stays here on this device: enter it again when the line is back.',
      )
    : error;
