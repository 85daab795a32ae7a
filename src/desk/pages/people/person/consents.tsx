import { consentInWords, NoteConsent } from '../../../actions/note-consent';
import { api, type Schemas } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';

type Consent = Schemas['Consent'];
type Props = {
  person: Schemas['Person'];
  guardians: readonly Schemas['Guardian'][];
  consents: readonly Consent[];
  mayChange: boolean;
  today: string;
  formatter: Formatter;
};

/** What guardians agreed to for a child; what was withdrawn stays readable. */
export function Consents({ person, guardians, consents, mayChange, today, formatter }: Props) {
  if (!person.isChild && consents.length === 0) return null;
  return (
    <section>
      <h2>Consents</h2>
      {consents.length === 0 && <p class="amber">No consent of a guardian is noted.</p>}
      <ul>
        {consents.map((consent) => (
          <Line key={consent.id} {...{ consent, mayChange, formatter }} />
        ))}
      </ul>
      {mayChange && person.isChild && (
        <p class="acts no-paper">
          <NoteConsent child={{ personId: person.id, name: person.name }} guardians={guardians} today={today} />
        </p>
      )}
    </section>
  );
}

function Line({ consent, mayChange, formatter }: Pick<Props, 'mayChange' | 'formatter'> & { consent: Consent }) {
  const mutation = useMutation();
  const said = consentInWords(consent, formatter);
  const { fullDate, dayOf } = formatter;
  const withdraw = () =>
    mutation.run({}, (headers) =>
      api.POST('/api/consents/{consentId}/withdrawal', {
        ...{ params: { path: { consentId: consent.id } }, body: {}, headers },
      }),
    );
  return (
    <li>
      {consent.withdrawnAt ? <s>{said}</s> : said}
      <br />
      <small class="quiet">
        Noted by {consent.notedBy} on {fullDate(dayOf(consent.notedAt))}
        {consent.withdrawnAt && `; withdrawn on ${fullDate(dayOf(consent.withdrawnAt))}`}
      </small>
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
      {mayChange && !consent.withdrawnAt && (
        <span class="acts no-paper">
          <button
            type="button"
            class="quiet"
            aria-label={`Withdraw this consent: ${said}`}
            aria-disabled={mutation.busy}
            onClick={withdraw}
          >
            Withdraw this consent
          </button>
        </span>
      )}
    </li>
  );
}
