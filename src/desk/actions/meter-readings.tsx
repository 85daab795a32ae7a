import { useCallback, useState } from 'preact/hooks';
import { parseDecimal } from '../../trade/text/parse-input.js';
import { api, Refused, type Schemas } from '../api/client';
import { useQuery } from '../api/query';
import { useMutation } from '../api/use-mutation';
import type { Formatter } from '../format/formatter';
import { Field } from '../forms/field';
import { LookedUp } from '../ui/looked-up';

type Firing = Schemas['FiringInDetail'];
type Props = { firingId: string; formatter: Formatter; onSaved(): void };

/** What the kiln's meter showed before and after a firing, where one of the two is not known yet. */
export function MeterReadings({ firingId, formatter, onSaved }: Props) {
  const read = useCallback(
    async (signal: AbortSignal): Promise<Firing> => {
      const { data } = await api.GET('/api/firings/{firingId}', { params: { path: { firingId } }, signal });
      if (!data) throw new Refused('unknown', 'The firing could not be loaded. Close this and open it again.');
      return data;
    },
    [firingId],
  );
  const query = useQuery({ key: ['firing', firingId], read, fresh: true });
  return (
    <LookedUp what="the meter" query={query}>
      {(firing) => <Missing {...{ firing, firingId, formatter, onSaved }} />}
    </LookedUp>
  );
}

function Missing({ firing, ...rest }: Props & { firing: Firing }) {
  const { startedAt, endedAt, readings } = firing;
  if (!startedAt || !endedAt) return null;
  const missing = [
    { label: 'Meter before the firing (kWh)', at: startedAt, is: readings.some(({ at }) => at <= startedAt) },
    { label: 'Meter after the firing (kWh)', at: endedAt, is: readings.some(({ at }) => at >= endedAt) },
  ].filter(({ is }) => !is);
  return (
    <>
      {missing.map(({ label, at }) => (
        <MissingReading key={label} {...{ label, at, ...rest }} />
      ))}
    </>
  );
}

type MissingProps = Props & { label: string; at: string };

function MissingReading({ firingId, label, at, formatter, onSaved }: MissingProps) {
  const [typed, setTyped] = useState('');
  const mutation = useMutation();
  const save = async () => {
    let kwh: string;
    try {
      kwh = parseDecimal(typed);
    } catch (error) {
      return mutation.refuse((error as Error).message);
    }
    const [params, body] = [{ path: { firingId } }, { at, kwh }];
    if (await mutation.run(body, (headers) => api.POST('/api/firings/{firingId}/readings', { params, body, headers })))
      onSaved();
  };
  return (
    <>
      <Field
        label={label}
        hint={`At ${formatter.time(at)}`}
        figures
        value={typed}
        onChange={setTyped}
        fault={mutation.error || undefined}
      />
      <p class="acts">
        <button type="button" class="quiet" aria-disabled={mutation.busy} onClick={save}>
          Save reading
        </button>
      </p>
    </>
  );
}
