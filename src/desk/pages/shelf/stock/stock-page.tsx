import './stock.css';
import { api, Refused } from '../../../api/client';
import type { Formatter } from '../../../format/formatter';
import { Phrases } from '../../../format/phrases';
import { formatQuantity } from '../../../format/quantity';
import { Page } from '../../../ui/page';
import { ShelfTabs } from '../shelf-tabs';
import { DayTable } from './day-table';
import { type Item, told, verb } from './labels';
import { Legend } from './legend';
import { Drawing } from './stock-chart';
import { answerOf, placeOf } from './summary';

async function readOutlook(): Promise<Item[]> {
  const { data } = await api.GET('/api/outlook');
  if (!data) throw new Refused('unknown', 'The server does not say what is on the shelf. Load the page again.');
  return data.items;
}

/** Is there enough on the shelf? The API tells the most urgent first. */
export function StockPage() {
  return (
    <Page question="Is there enough on the shelf?" tabs={(me) => <ShelfTabs me={me} />} read={readOutlook}>
      {(items, { me, formatter }) => (
        <>
          <p class="answer">
            <Phrases of={answerOf(items, me.today, formatter)} />
          </p>
          {items.length > 0 && <Legend />}
          <div class="shelf">
            {items.map((item) => (
              <Material key={item.materialId} item={item} today={me.today} formatter={formatter} />
            ))}
          </div>
        </>
      )}
    </Page>
  );
}

type Props = { item: Item; today: string; formatter: Formatter };

function Material({ item, today, formatter }: Props) {
  const { materialId, name, onHand, unit, orderBy, asksForCount, shortOn } = item;
  const tone = shortOn.sure ? 'iron' : orderBy ? 'amber' : 'celadon';
  const verdict = shortOn.sure ? 'short' : orderBy ? verb(item) : 'enough';
  return (
    <section id={placeOf(item)} class={orderBy ? 'wanting' : undefined}>
      <h2>
        <a href={`/shelf/materials/${materialId}`}>{name}</a>{' '}
        <span>{formatQuantity(onHand, unit, formatter)} on the shelf,</span> <span class={tone}>{verdict}</span>
      </h2>
      {asksForCount && <p class="amber">Count it: more was used than was recorded.</p>}
      <Drawing item={item} today={today} formatter={formatter} />
      <p>{told(item, today, formatter).join(' ')}</p>
      <DayTable item={item} formatter={formatter} />
    </section>
  );
}
