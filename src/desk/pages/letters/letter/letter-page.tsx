import './letter.css';
import { useCallback } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import { api, Refused, type Schemas } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import { DataTable } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { OCCASIONS, STATES, toneOf, wayOf } from '../labels';

type Letter = Schemas['NoticeInFull'];

/** What does this letter say, and did it go out? */
export function LetterPage() {
  const { params } = useRoute();
  const id = params.letterId ?? '';
  const read = useCallback((_: Me, signal: AbortSignal) => readLetter(id, signal), [id]);
  return (
    <Page
      question="A letter"
      read={read}
      headed={({ occasion, personName }) => `${OCCASIONS[occasion]}: ${personName}`}
    >
      {(letter, at) => <Written letter={letter} {...at} />}
    </Page>
  );
}

async function readLetter(noticeId: string, signal: AbortSignal): Promise<Letter> {
  const { data } = await api.GET('/api/notices/{noticeId}', { params: { path: { noticeId } }, signal });
  if (!data) throw new Refused('unknown', 'This letter could not be loaded. Load the page again.');
  return data;
}

function Written({ letter, formatter }: At & { letter: Letter }) {
  const { subject, text, state, deliveries, documentId, fileName, personId, personName, email, createdAt } = letter;
  const { longDay, dayOf, time } = formatter;
  return (
    <>
      <p class="answer">
        <span class={toneOf(state)}>{STATES[state]}</span>
        {(state === 'sent' || state === 'written') && ` ${wayOf(letter, formatter)}`}.
      </p>
      <dl class="facts">
        <div>
          <dt>To</dt>
          <dd>
            <a href={`/people/${personId}`}>{personName}</a>, {email ?? 'without an email address'}
          </dd>
        </div>
        <div>
          <dt>Written</dt>
          <dd>{longDay(dayOf(createdAt))}</dd>
        </div>
        <div>
          <dt>Subject</dt>
          <dd>{subject}</dd>
        </div>
        {documentId && (
          <div>
            <dt>Paper</dt>
            <dd>
              <a href={`/api/documents/${documentId}/pdf`} target="_blank" rel="noopener">
                {fileName}
              </a>
            </dd>
          </div>
        )}
      </dl>
      <div class="letter-text">{text}</div>
      <p class="quiet">The greeting and the signature are as they are today.</p>
      <section>
        <h2>On its way</h2>
        {deliveries.length === 0 ? (
          <p>It has not been tried yet.</p>
        ) : (
          <DataTable
            caption="Each time it was sent or tried"
            columns={[
              { head: 'When', cell: ({ at }: Letter['deliveries'][number]) => `${longDay(dayOf(at))}, ${time(at)}` },
              { head: 'What happened', cell: ({ outcome }) => STATES[outcome] },
              { head: 'More', cell: ({ detail }) => <span class="delivery">{detail}</span> },
            ]}
            rows={deliveries}
            keyOf={(row) => String(deliveries.indexOf(row))}
          />
        )}
      </section>
    </>
  );
}
