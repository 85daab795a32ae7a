import type { Schemas } from '../../../api/client';
import { Disclosure } from '../../../ui/disclosure';
import { Differences } from './differences';
import type { Words } from './labels';

type Props = { price: Schemas['CoursePrice'] | Schemas['PrivatePrice']; words: Words };

/** What a delivery, a meter or a setting has made of the price since it was saved, line by line. */
export function ChangesSince({ price: { since, sinceUnknown, result }, words }: Props) {
  if (sinceUnknown) return <p class="since">{sinceUnknown}</p>;
  if (!since) return null;
  const { savedAt, fairPriceMinor: savedMinor, rows } = since;
  const { moneyInText: money } = words;
  const fairMinor = result.fairPriceMinor;
  const difference = fairMinor - savedMinor;
  const so =
    difference === 0
      ? `Today’s figures still come to it${rows.length === 0 ? '; nothing has moved' : ''}.`
      : `Today’s figures come to ${money(fairMinor)}, ${money(Math.abs(difference))} ${difference > 0 ? 'more' : 'less'}.`;
  return (
    <section class="since">
      <p>
        On {words.day(savedAt)} you saved a fair price of {money(savedMinor)}. {so}
      </p>
      {rows.length > 0 && (
        <Disclosure title="What has moved since" note="line by line, the greatest first">
          <Differences
            compared={{ rows, firstMinor: savedMinor, secondMinor: fairMinor }}
            {...{ words }}
            caption="What has moved since, the greatest first"
          />
        </Disclosure>
      )}
    </section>
  );
}
