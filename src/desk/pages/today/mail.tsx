import { capital, count, type Formatter } from '../../format/formatter';
import { Disclosure } from '../../ui/disclosure';
import { useNarrow } from '../../ui/use-narrow';
import type { Today } from './labels';

type Props = { today: Today; formatter: Formatter };

/** "placeConfirmed" is "Place confirmed". */
const occasionCalled = (occasion: string) =>
  capital(occasion.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`));

/** Letters that did not arrive, and why. */
export function Mail({ today: { mail, day }, formatter }: Props) {
  const narrow = useNarrow();
  if (!mail || mail.failed.length === 0) return null;
  return (
    <Disclosure open={!narrow} title="Did not arrive" note={count(mail.failed.length, 'email')}>
      <table class="brief mail" id="mail">
        <caption class="heard">Did not arrive</caption>
        <thead>
          <tr>
            <th scope="col">To</th>
            <th scope="col">What</th>
            <th scope="col">Why</th>
          </tr>
        </thead>
        <tbody>
          {mail.failed.map(({ noticeId, personName, occasion, at, outcome, detail }) => (
            <tr key={noticeId}>
              <th scope="row">
                <a href={`/letters/${noticeId}`}>{personName}</a>
              </th>
              <td class="what">
                {occasionCalled(occasion)}
                <small> {formatter.day(formatter.dayOf(at), day)}</small>
              </td>
              <td class="what">
                {outcome === 'noAddress' ? 'There is no email address. Print it and hand it over.' : detail}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </Disclosure>
  );
}
