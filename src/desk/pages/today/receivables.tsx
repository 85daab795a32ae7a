import { SendReminders } from '../../actions/send-reminders';
import { TakePayment } from '../../actions/take-payment';
import { count, type Formatter } from '../../format/formatter';
import { Disclosure } from '../../ui/disclosure';
import { useNarrow } from '../../ui/use-narrow';
import type { Today } from './labels';

type Props = { today: Today; formatter: Formatter };

/** Who owes most; the rest stands on its own page. A tutor sees none of it. */
export function Debts({ today: { debts }, formatter }: Props) {
  const { money } = formatter;
  const narrow = useNarrow();
  if (!debts || debts.people + debts.heldPeople === 0) return null;
  return (
    <Disclosure open={!narrow} title="Who owes" note={count(debts.people, 'person', 'people')}>
      <table class="brief debts" id="owes">
        <caption class="heard">Who owes</caption>
        <thead>
          <tr>
            <th scope="col">Who</th>
            <th scope="col">What for</th>
            <th scope="col" class="number">
              Due now
            </th>
            <th scope="col" class="number">
              In all
            </th>
            <td />
          </tr>
        </thead>
        <tbody>
          {debts.top.map(({ personId, name, what, dueMinor, owedMinor }) => (
            <tr key={personId}>
              <th scope="row">
                <a href={`/people/${personId}`}>{name}</a>
              </th>
              <td class="what">{what.join('; ')}</td>
              <td class={dueMinor > 0 ? 'number due iron' : 'number due none'}>{money(dueMinor)}</td>
              <td class="number">{money(owedMinor)}</td>
              <td class="what acts">
                <TakePayment person={{ personId, name }} formatter={formatter} />
                {dueMinor > 0 && (
                  <SendReminders people={[{ personId, name }]} label="Remind" about={name} formatter={formatter} />
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        {debts.heldMinor > 0 &&
          `${money(debts.heldMinor)} more is asked for held places, and owed once they are confirmed. `}
        {debts.firingPeople > 0 &&
          `${money(debts.firingOwedMinor)} of it is for firing, from ${count(debts.firingPeople, 'person', 'people')}. `}
        <a href="/money">
          {debts.people > debts.top.length ? `All ${debts.people} who owe, and taking a payment` : 'Take a payment'}
        </a>
      </p>
    </Disclosure>
  );
}
