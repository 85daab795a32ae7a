import './piece.css';
import '../../../charts/boards.css';
import { useCallback } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import { api, Refused, type Schemas } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import { Outline } from '../../../charts/pot';
import { pxOf, scaleFor } from '../../../charts/px-scale';
import { capital, type Formatter } from '../../../format/formatter';
import { formCalled, isGlazed, stageCalled } from '../../../format/piece';
import { formatQuantity } from '../../../format/quantity';
import { DataTable } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { answerOf, coatsOf, sizeOf } from '../labels';

type Story = Schemas['PieceStory'];

/** What became of this piece? */
export function PiecePage() {
  const { params } = useRoute();
  const id = params.pieceId ?? '';
  const read = useCallback((_: Me, signal: AbortSignal) => readStory(id, signal), [id]);
  return (
    <Page question="A piece" read={read} headed={({ code, description }) => `${code}, ${description}`}>
      {(story, at) => <Told story={story} {...at} />}
    </Page>
  );
}

async function readStory(id: string, signal: AbortSignal): Promise<Story> {
  const { data } = await api.GET('/api/pieces/{id}', { params: { path: { id } }, signal });
  if (!data) throw new Refused('unknown', 'This piece could not be loaded. Load the page again.');
  return data;
}

function Told({ story, me, formatter }: At & { story: Story }) {
  const { makerId, makerName, form, glazes, draws, events, firingPaidBy } = story;
  return (
    <>
      <p class="answer">{answerOf(story, me.today, formatter)}</p>
      <Drawing story={story} />
      <dl class="facts">
        <Fact what="Maker">
          <a href={`/people/${makerId}`}>{makerName}</a>
        </Fact>
        <Fact what="Form">{capital(formCalled(form))}</Fact>
        <Fact what="Fired size">{sizeOf(story)}</Fact>
        <Fact what="Firing paid by">{firingPaidBy === 'course' ? 'Its course' : 'Its maker'}</Fact>
      </dl>
      <History {...{ events, formatter }} />
      {glazes.length > 0 && (
        <section>
          <h2>What is on it</h2>
          <DataTable
            caption="What is on it, in that order"
            columns={[
              { head: 'Material', cell: ({ name }: Story['glazes'][number]) => name },
              { head: 'How', cell: (layer) => coatsOf(layer, formatter) },
              { head: 'Food surface', cell: ({ foodSurface }) => (foodSurface ? 'Yes' : 'No') },
            ]}
            rows={glazes}
            keyOf={({ materialId }) => `${materialId}-${glazes.findIndex((g) => g.materialId === materialId)}`}
          />
          <p class="quiet">Whether it may hold food is for a laboratory to test, unless the manufacturer states it.</p>
        </section>
      )}
      {draws.length > 0 && (
        <section>
          <h2>Used for it alone</h2>
          <DataTable
            caption="Used from the shelf for it alone"
            columns={[
              { head: 'Material', cell: ({ name }: Story['draws'][number]) => name },
              {
                head: 'Quantity',
                figures: true,
                cell: ({ quantity, unit }) => formatQuantity(quantity, unit, formatter),
              },
              { head: 'On', cell: ({ at }) => formatter.date(formatter.dayOf(at)) },
              { head: 'Note', cell: ({ note }) => note },
            ]}
            rows={draws}
            keyOf={({ at, materialId }) => `${at}-${materialId}`}
          />
        </section>
      )}
    </>
  );
}

function Fact({ what, children }: { what: string; children: preact.ComponentChildren }) {
  return (
    <div>
      <dt>{what}</dt>
      <dd>{children}</dd>
    </div>
  );
}

type Event = Story['events'][number];

function History({ events, formatter }: { events: readonly Event[]; formatter: Formatter }) {
  const { longDay, dayOf, time } = formatter;
  return (
    <section>
      <h2>What happened to it</h2>
      <DataTable
        caption="What happened to it, the latest first"
        columns={[
          { head: 'When', cell: ({ at }: Event) => `${longDay(dayOf(at))}, ${time(at)}` },
          { head: 'Stage', cell: ({ stage }) => capital(stageCalled(stage)) },
          { head: 'Where', cell: ({ boardName }) => boardName },
          { head: 'Note', cell: ({ note }) => note },
        ]}
        rows={[...events].reverse()}
        keyOf={(event) => String(events.indexOf(event))}
      />
    </section>
  );
}

/** The piece on its plank, to scale. */
function Drawing({ story }: { story: Story }) {
  const { widthMm, heightMm, stage } = story;
  const scale = scaleFor([story]);
  return (
    <figure class="one-piece">
      <svg
        aria-hidden="true"
        width={pxOf(widthMm, scale)}
        height={pxOf(heightMm, scale)}
        viewBox={`${-widthMm / 2} ${-heightMm} ${widthMm} ${heightMm}`}
      >
        <Outline {...story} glazed={isGlazed(stage)} late={false} />
      </svg>
      <figcaption class="quiet">Drawn 1 to {scale}</figcaption>
    </figure>
  );
}
