import { api, type Schemas } from '../../api/client';
import { useMutation } from '../../api/use-mutation';
import { type Formatter, listed } from '../../format/formatter';
import { ErrorMessage } from '../../forms/error-message';
import { DialogButton } from '../../ui/dialog';
import { toast } from '../../ui/toast';
import { MergePeople } from './merge-people';

type Double = Schemas['Double'];
const CALLED: Record<Double['same'][number], string> = { name: 'name', email: 'email', phone: 'phone number' };

/** Two entries that may be of one person: which it is, the owner says. */
export function DoublePair({ double: { one, other, same }, formatter }: { double: Double; formatter: Formatter }) {
  const mutation = useMutation();
  const about = `${one.name} and ${other.name}`;
  const distinguish = async () => {
    const body = { otherId: other.id };
    const done = await mutation.run(body, (headers) =>
      api.POST('/api/people/{personId}/distinctions', { params: { path: { personId: one.id } }, body, headers }),
    );
    if (done) toast(<span>{about} are two people. They are not suggested again.</span>);
  };
  return (
    <li>
      <a href={`/people/${one.id}`}>{one.name}</a> and <a href={`/people/${other.id}`}>{other.name}</a>{' '}
      <span class="quiet">have the same {listed(same.map((what) => CALLED[what]))}.</span>
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
      <span class="acts">
        <DialogButton label="One person" about={about} title={`${one.name} is in your list twice`}>
          {(close) => <MergePeople person={one} other={other} formatter={formatter} onClose={close} />}
        </DialogButton>
        <button
          type="button"
          class="quiet"
          aria-label={`Two people ${about}`}
          aria-disabled={mutation.busy}
          onClick={distinguish}
        >
          Two people
        </button>
      </span>
    </li>
  );
}
