import '../look/shelf.css';
import { api, Refused } from '../client';
import { Page } from '../page';
import { Phrases } from '../phrases';
import type { Tell } from '../tell';
import { answerOf, placeOf } from './answer';
import { DayTable } from './day-table';
import { Drawing } from './drawing';
import { Legend } from './legend';
import { Ways } from './ways';
import { amount, type Item, told, verb } from './words';

async function readOutlook(): Promise<Item[]> {
  const { data } = await api.GET('/api/outlook');
  if (!data) throw new Refused('unknown', 'The server does not say what is on the shelf. Load the page again.');
  return data.items;
}

/** What is on the shelf, and will it do? The API tells the most urgent first. */
export function ShelfPage() {
  return (
    <Page question="What is on the shelf, and will it do?" read={readOutlook}>
      {(items, { me, tell }) => (
        <>
          <Ways me={me} />
          <p class="answer">
            <Phrases of={answerOf(items, me.today, tell)} />
          </p>
          {items.length > 0 && <Legend />}
          <div class="shelf">
            {items.map((item) => (
              <Material key={item.materialId} item={item} today={me.today} tell={tell} />
            ))}
          </div>
        </>
      )}
    </Page>
  );
}

type Props = { item: Item; today: string; tell: Tell };

function Material({ item, today, tell }: Props) {
  const { name, onHand, unit, orderBy, asksForCount, shortOn } = item;
  const tone = shortOn.sure ? 'iron' : orderBy ? 'amber' : 'celadon';
  const verdict = shortOn.sure ? 'short' : orderBy ? verb(item) : 'enough';
  return (
    <section id={placeOf(item)} class={orderBy ? 'wanting' : undefined}>
      <h2>
        {name} <span>{amount(onHand, unit, tell)} on the shelf,</span> <span class={tone}>{verdict}</span>
      </h2>
      {asksForCount && <p class="amber">Count it: more was drawn than the books held.</p>}
      <Drawing item={item} today={today} tell={tell} />
      <p>{told(item, today, tell).join(' ')}</p>
      <DayTable item={item} tell={tell} />
    </section>
  );
}
