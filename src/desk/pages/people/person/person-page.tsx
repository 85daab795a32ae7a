import '../../../ui/styles/raised.css';
import type { ComponentChildren } from 'preact';
import { useCallback, useEffect, useState } from 'preact/hooks';
import { useLocation, useRoute } from 'preact-iso';
import { SendReminders } from '../../../actions/send-reminders';
import { TakePayment } from '../../../actions/take-payment';
import type { Me } from '../../../api/use-me';
import { DataTable } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { PhoneLink } from '../../../ui/phone-link';
import { DoublePair } from '../double-pair';
import { SamePerson } from '../merge-people';
import { PersonForm } from '../person-form';
import { CareNote } from './care-note';
import { bookingColumns, chargeColumns, paymentColumns, pieceColumns } from './columns';
import { Consents } from './consents';
import { Guardians } from './guardians';
import { answerOf } from './labels';
import { MembershipSection } from './membership-section';
import { MergedEntries } from './merged-entries';
import { type PersonRead, readPerson } from './queries';

/** Who is this, and what is between them and the studio? */
export function PersonPage() {
  const { params } = useRoute();
  const personId = params.personId ?? '';
  const read = useCallback((me: Me, signal: AbortSignal) => readPerson(personId, me, signal), [personId]);
  return (
    <Page question="A person" read={read} headed={({ person }) => person.name}>
      {(found, at) =>
        found.person.id === personId ? (
          <Known key={found.person.id} {...found} at={at} />
        ) : (
          <LedOn personId={found.person.id} />
        )
      }
    </Page>
  );
}

/** The address is that of an entry that was merged: its place is at the one who stays. */
function LedOn({ personId }: { personId: string }) {
  const { route } = useLocation();
  useEffect(() => route(`/people/${personId}`, true), [personId]);
  return null;
}

function Known({ at, ...found }: PersonRead & { at: At }) {
  const { person, bookings, pieces, payments } = found;
  const maySell = at.me.rights.includes('money:write');
  const { me, formatter } = at;
  return (
    <>
      <p class="answer">{answerOf(found, me.today, formatter)}</p>
      <Contact {...found} at={at} />
      <Guardians person={person} of={found.guardians} mayChange={me.rights.includes('people:write')} />
      <Consents
        {...{ person, consents: found.consents, formatter }}
        guardians={found.guardians.guardians}
        mayChange={me.rights.includes('people:write')}
        today={me.today}
      />
      <PerhapsTwice {...found} at={at} />
      <MergedEntries person={person} merges={found.merges} formatter={formatter} />
      {found.care && <CareNote personId={person.id} of={found.care} formatter={formatter} />}
      <Owes {...found} at={at} />
      {found.memberships && <MembershipSection person={person} memberships={found.memberships} {...at} />}
      {bookings && (
        <Part heading="What they booked" none="They have booked nothing yet." found={bookings}>
          <DataTable
            caption="What they booked"
            columns={bookingColumns(formatter, { personId: person.id, today: me.today, mayCancel: maySell })}
            rows={bookings.items}
            keyOf={(row) => row.id}
          />
        </Part>
      )}
      {payments && payments.items.length > 0 && (
        <Part heading="What they paid" none="They have paid nothing yet." found={payments}>
          <DataTable
            caption="What they paid"
            columns={paymentColumns(formatter, maySell)}
            rows={payments.items}
            keyOf={(row) => row.id}
          />
        </Part>
      )}
      {pieces && (
        <Part
          heading="What they made"
          none="There is no ware of theirs."
          found={pieces}
          more={<a href={`/ware?makerId=${person.id}&which=all`}>All their ware</a>}
        >
          <DataTable
            caption="What they made"
            columns={pieceColumns(formatter)}
            rows={pieces.items}
            keyOf={(row) => row.id}
          />
        </Part>
      )}
      {me.rights.includes('money:read') && <Elsewhere personId={person.id} />}
    </>
  );
}

/** Entries that may be of the same person. */
function PerhapsTwice({ doubles, at }: PersonRead & { at: At }) {
  if (doubles.length === 0) return null;
  return (
    <section class="no-paper">
      <h2>Perhaps in your list twice</h2>
      <ul>
        {doubles.map((double) => (
          <DoublePair key={`${double.one.id} ${double.other.id}`} {...{ double, formatter: at.formatter }} />
        ))}
      </ul>
    </section>
  );
}

/** What is open of theirs, and what can be done about it. */
function Owes({ person, charges, at: { me, formatter } }: PersonRead & { at: At }) {
  if (!charges) return null;
  const maySell = me.rights.includes('money:write');
  return (
    <>
      <Part heading="What they owe" none="Nothing is open." found={charges} more={<a href="/money">Who owes</a>}>
        <DataTable
          caption="What they owe"
          columns={chargeColumns(formatter)}
          rows={charges.items}
          keyOf={(row) => row.chargeId}
        />
      </Part>
      {maySell && charges.items.length > 0 && (
        <p class="acts">
          <TakePayment person={{ personId: person.id, name: person.name }} formatter={formatter} />
          {charges.items.some(({ dueOn, hold }) => !hold && dueOn !== null && dueOn <= me.today) && (
            <SendReminders people={[{ personId: person.id, name: person.name }]} label="Remind" formatter={formatter} />
          )}
        </p>
      )}
    </>
  );
}

function Elsewhere({ personId }: { personId: string }) {
  const all = (to: string, rows: string) => <a href={`${to}?personId=${personId}`}>{rows}</a>;
  return (
    <p class="acts no-paper">
      {all('/letters', 'Their letters')} {all('/money/papers', 'Their papers')}
    </p>
  );
}

type PartProps = {
  heading: string;
  none: string;
  found: { items: readonly unknown[]; total: number; totalIsMinimum: boolean };
  more?: ComponentChildren;
  children: ComponentChildren;
};

/** One kind of thing between a person and the studio; where there are more than are shown, it says so. */
function Part({ heading, none, found: { items, total, totalIsMinimum }, more, children }: PartProps) {
  return (
    <section>
      <h2>{heading}</h2>
      {items.length === 0 ? <p class="quiet">{none}</p> : children}
      {total > items.length && (
        <p class="quiet">
          The latest {items.length} of {totalIsMinimum ? `more than ${total}` : total} are shown.
        </p>
      )}
      {items.length > 0 && more && <p class="no-paper">{more}</p>}
    </section>
  );
}

/** How to reach them; it can be changed where it stands. */
function Contact({ person, etag, at }: PersonRead & { at: At }) {
  const [changing, setChanging] = useState(false);
  if (changing)
    return <PersonForm of={{ person, etag }} onSaved={() => setChanging(false)} onCancel={() => setChanging(false)} />;
  const { paperName, email, phone, addressLines, memberSince, isChild, wishes, note } = person;
  const lines: [string, ComponentChildren][] = [
    ['Name on papers', paperName],
    ['Email', email && <a href={`mailto:${email}`}>{email}</a>],
    ['Phone', phone && <PhoneLink phone={phone} />],
    ['Address', addressLines.join(', ')],
    ['Member since', memberSince && at.formatter.fullDate(memberSince)],
    ['Age', isChild && 'A child'],
    ['Wishes', wishes],
    ['Note', note],
  ];
  const known = lines.filter(([, said]) => said);
  return (
    <section>
      <h2>About them</h2>
      {!email && !phone && addressLines.length === 0 && <p class="quiet">No email, phone or address is known.</p>}
      <dl class="facts">
        {known.map(([what, said]) => (
          <div key={what}>
            <dt>{what}</dt>
            <dd>{said}</dd>
          </div>
        ))}
      </dl>
      {at.me.rights.includes('people:write') && (
        <p class="acts no-paper">
          <button type="button" class="quiet" onClick={() => setChanging(true)}>
            Change this person
          </button>
          <SamePerson person={person} formatter={at.formatter} />
        </p>
      )}
    </section>
  );
}
