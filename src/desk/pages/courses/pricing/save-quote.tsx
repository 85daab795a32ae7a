import { useState } from 'preact/hooks';
import { api } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';

/** Saves what the server works out today; what was tried out is not saved. */
export function SaveQuote({ courseId }: { courseId: string }) {
  const [isSaved, setSaved] = useState(false);
  const { run, busy, error } = useMutation();
  const save = async () => {
    setSaved(false);
    const params = { path: { courseId } };
    setSaved(await run(courseId, (headers) => api.POST('/api/courses/{courseId}/price-quotes', { params, headers })));
  };
  return (
    <div class="keep">
      <button type="button" aria-disabled={busy} onClick={save}>
        Save today’s price
      </button>
      <p role="status" class={error ? 'fault' : isSaved ? 'done' : 'nothing'}>
        {error || (isSaved && 'Saved with today’s figures and their sources.')}
      </p>
    </div>
  );
}
