import { useEffect } from 'preact/hooks';
import { api, type Schemas, signInFirst } from '../../../api/client';
import { useQuery } from '../../../api/query';
import { useMe } from '../../../api/use-me';
import { useMutation } from '../../../api/use-mutation';
import { ErrorMessage } from '../../../forms/error-message';
import { Layout } from '../../../ui/layout';
import { useTitle } from '../../../ui/use-title';
import { StudioTabs } from '../studio-tabs';

type SampleStatus = Schemas['SampleStatus'];

const QUESTION = 'Sample studio';
const ASK_AGAIN_MILLISECONDS = 2000;

const readStatus = async (signal: AbortSignal): Promise<SampleStatus> => {
  const { data } = await api.GET('/api/sample-studio', { signal });
  if (!data) throw new Error('The server does not say whether there is a sample studio. Reload the page.');
  return data;
};

/** An invented studio to look at, which is made, opened and removed from one's own; also before that is entered. */
export function SamplePage() {
  useTitle(QUESTION);
  const { data: me, error: notMe } = useMe();
  const { data: status, error: notRead, refetch } = useQuery({ key: ['sample'], read: readStatus, enabled: !!me });
  const loading = status?.state === 'loading';
  useEffect(() => {
    if (!loading) return;
    const timer = setInterval(() => void refetch(), ASK_AGAIN_MILLISECONDS);
    return () => clearInterval(timer);
  }, [loading]);
  const error = notMe ?? notRead;
  if (error && signInFirst(error)) return null;
  if (!me) return <main aria-busy={!error}>{error && <ErrorMessage>{error.message}</ErrorMessage>}</main>;
  return (
    <Layout me={me} question={QUESTION} narrow busy={!status && !error}>
      {me.studio && <StudioTabs me={me} />}
      {error && <ErrorMessage>{error.message}</ErrorMessage>}
      {status && <Sample status={status} />}
      {!me.studio && (
        <p>
          <a href="/studio">Back to your own studio</a>
        </p>
      )}
    </Layout>
  );
}

const ANSWERS: Record<SampleStatus['state'], string> = {
  absent: 'Look at a studio that has been running for a year.',
  loading: 'The sample studio is being made. This takes half a minute.',
  ready: 'The sample studio is ready.',
  failed: 'The sample studio could not be made.',
  impossible: 'The sample studio can’t be opened here.',
};

function Sample({ status: { state, detail } }: { status: SampleStatus }) {
  const { run, busy, error } = useMutation();
  const make = () => run('make', () => api.POST('/api/sample-studio'));
  const remove = () => run('remove', () => api.POST('/api/sample-studio/removal'));
  const visit = () =>
    run('visit', async () => {
      const { data } = await api.POST('/api/sample-studio/visit');
      if (data) location.assign(data.url);
    });
  return (
    <>
      <p class="answer" role="status">
        {ANSWERS[state]}
      </p>
      {detail && <p>{detail}</p>}
      <p>
        Its people, courses and money are invented. It is kept apart from your own studio, so you can try everything in
        it; no letters go out. Removing it deletes all of it, and nothing of yours.
      </p>
      {error && <ErrorMessage>{error}</ErrorMessage>}
      <p class="acts">
        {(state === 'absent' || state === 'failed') && (
          <button type="button" aria-disabled={busy} onClick={make}>
            Make the sample studio
          </button>
        )}
        {state === 'ready' && (
          <button type="button" aria-disabled={busy} onClick={visit}>
            Open the sample studio
          </button>
        )}
        {(state === 'ready' || state === 'failed') && (
          <button type="button" class="quiet" aria-disabled={busy} onClick={remove}>
            Remove the sample studio
          </button>
        )}
      </p>
    </>
  );
}
